/** Figures as the desk shows them: in the units that the person chose, to the figures of a report. */

import type { Severity } from "../page/view.ts";
import type { DuplicateGroup, Row, State } from "./asking/answers.ts";

export type System = "ft" | "m";

/** Exact by definition of the international foot. */
const FOOT_M = 0.3048;
const FT3_M3 = FOOT_M ** 3;
export const MILE2_KM2 = 2.589988110336;

/** Figures to which a discharge is told: British Columbia manual, 1998, F.3 (read). */
const FIGURES = 3;

/** As in the reports: beyond that two figures are the same to everybody. */
const MOST_FIGURES = 9;

export const NOT_KNOWN = "–";

/** Return a number with so many figures, trailing zeros among them, and no power of ten. */
export function figures(value: number, count = FIGURES): string {
  if (value === 0) return "0";
  const power = Math.floor(Math.log10(Math.abs(Number(value.toPrecision(count)))));
  return value.toFixed(Math.min(Math.max(count - 1 - power, 0), 100));
}

export function dischargeUnit(system: System): string {
  return system === "ft" ? "ft³/s" : "m³/s";
}

/** Return a discharge without its unit; a dash where it is not known. */
export function discharge(m3s: number | null, system: System): string {
  return m3s === null ? NOT_KNOWN : figures(system === "ft" ? m3s / FT3_M3 : m3s);
}

export function discharged(m3s: number | null, system: System): string {
  return m3s === null ? NOT_KNOWN : `${discharge(m3s, system)} ${dischargeUnit(system)}`;
}

/** Return two discharges that differ to three figures, or to as many more as it takes to see it. */
export function toldApart(one: number, other: number, system: System): [string, string] {
  const per = system === "ft" ? FT3_M3 : 1;
  const told = (count: number) => [one, other].map((m3s) => `${figures(m3s / per, count)} ${dischargeUnit(system)}`);
  let count = FIGURES;
  while (count < MOST_FIGURES && told(count)[0] === told(count)[1]) count += 1;
  return told(count) as [string, string];
}

export function unitDischargeUnit(system: System): string {
  return system === "ft" ? "ft³/s/mi²" : "L/s/km²";
}

/** Return a discharge for its drainage area without its unit, given in L/s/km². */
export function unitDischarge(l_s_km2: number | null, system: System): string {
  if (l_s_km2 === null) return NOT_KNOWN;
  return figures(system === "ft" ? (l_s_km2 / 1000 / FT3_M3) * MILE2_KM2 : l_s_km2);
}

/** Return a length in the unit of a system, as a number. */
export function inLength(metres: number, system: System): number {
  return system === "ft" ? metres / FOOT_M : metres;
}

export function toMetres(value: number, unit: string): number | null {
  const metres = { m: 1, ft: FOOT_M, cm: 0.01, mm: 0.001, in: FOOT_M / 12 }[unit];
  return metres === undefined ? null : value * metres;
}

/** Return a length without its unit. */
export function length(metres: number | null, system: System): string {
  return metres === null ? NOT_KNOWN : figures(inLength(metres, system));
}

/** Return how far a discharge may be off about 19 times in 20, in percent. */
export function offBy(expandedPercent: number | null): string {
  return expandedPercent === null ? NOT_KNOWN : `± ${figures(expandedPercent, 2)} %`;
}

/** Return the same of a gauging, in a word or two where it is not told. */
export function offByOf({ in_doubt, expanded_percent }: Row): string {
  return in_doubt ? "not told, in doubt" : offBy(expanded_percent);
}

/** Return how many findings of a gauging wait for an answer. */
export function openOf({ open_stop, open_fix, open_explain }: Row): number {
  return open_stop + open_fix + open_explain;
}

/** Return how many findings of gaugings wait for an answer, by how grave they are. */
export function openFindings(rows: readonly Row[]): Readonly<Record<Severity, number>> {
  const sum = (of: (row: Row) => number) => rows.reduce((all, row) => all + of(row), 0);
  return {
    stop: sum((row) => row.open_stop),
    "fix now": sum((row) => row.open_fix),
    explain: sum((row) => row.open_explain),
    note: 0,
  };
}

/** Return what a gauging is called beside others. */
export function calledRow(row: Row): string {
  return [calledPlace(row) || `gauging ${row.id.slice(0, 8)}`, row.day].filter(Boolean).join(", ");
}

/** Return what a gauging is called, with its time of day where another of that place and day is there. */
export function calledAmong(row: Row, rows: readonly Row[]): string {
  const name = calledRow(row);
  const several = rows.some((other) => other.id !== row.id && calledRow(other) === name);
  return several ? [name, clock(row.started)].filter(Boolean).join(" ") : name;
}

/** Return where a gauging was made, by the survey's names where it has a site; "" where nothing says. */
export function calledPlace(row: Row): string {
  return [streamOf(row), placeOf(row)].filter(Boolean).join(", ");
}

export function streamOf({ site_stream, stream }: Row): string | null {
  return site_stream ?? stream;
}

export function placeOf({ site_name, place, label }: Row): string | null {
  return site_name ?? place ?? label;
}

/** Return the time of day of an instant as its device had it, such as 10:05; "" where none is known. */
export function clock(instant: string | null): string {
  return /T(\d\d:\d\d)/.exec(instant ?? "")?.[1] ?? "";
}

/** A shape for each state, so that it is not told by its colour or place alone. */
export const STATE_SIGNS: Readonly<Record<State, string>> = {
  "under way": "○",
  "to review": "◐",
  "sent back": "↩",
  approved: "✓",
  "changed since approval": "≠",
};

/** Whether the office has something to do there. */
export function waits(state: State): boolean {
  return state === "to review" || state === "changed since approval";
}

export function isFine({ verdict }: DuplicateGroup): boolean {
  return verdict === "agree";
}
