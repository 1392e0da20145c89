/**
 * Where the crew goes next, and what is asked there: from the plan, from what was read, and from
 * what the recorder chose against the plan.
 */

import { compare, further, isFigure, same } from "../figures.ts";
import {
  edgeOf,
  other,
  type Bank,
  type ChannelSaid,
  type Edge,
  type VerticalSaid,
} from "../section.ts";

/** What the recorder chose instead of what is due. */
export type Chosen =
  | { readonly go: "type"; readonly inserted: boolean }
  | { readonly go: "edge"; readonly edge: Edge; readonly bank: Bank; readonly tape: string | null }
  | { readonly go: "tape"; readonly tape: string; readonly inserted: boolean }
  /** Read again at a vertical that stands, at one point of it. */
  | { readonly go: "again"; readonly vertical: string; readonly fraction: number | null };

export interface Known {
  readonly channel: ChannelSaid;
  /** Tape positions as planned, from the start bank on; none where nothing is planned. */
  readonly planned: readonly string[];
  readonly start: Edge;
  /** Whether the tape's numbers grow on the way from the start bank. */
  readonly growing: boolean;
  readonly chosen: Chosen | null;
  /** Verticals that the recorder left without all that is asked there. */
  readonly left: ReadonlySet<string>;
  /** At which fractions of the depth a vertical is read; null while nobody says. */
  readonly points: (vertical: VerticalSaid) => readonly (number | null)[] | null;
}

export type Asked =
  | { readonly ask: "tape"; readonly edge: Edge | null }
  | { readonly ask: "depth" }
  /** `point` of `points` at this vertical, counted from 1; `sure` unless nobody says which. */
  | {
      readonly ask: "velocity";
      readonly fraction: number | null;
      readonly point: number;
      readonly points: number;
      readonly sure: boolean;
      readonly again: boolean;
    }
  | { readonly ask: "nothing" };

export interface Present {
  readonly asked: Asked;
  /** Where: null while the tape position itself is asked for, and at the end. */
  readonly tape: string | null;
  /** The vertical that stands there already; null where the first figure begins it. */
  readonly vertical: VerticalSaid | null;
  readonly edge: Edge | null;
  readonly bank: Bank | null;
  readonly planned: boolean;
  readonly inserted: boolean;
}

const NOWHERE = {
  tape: null,
  vertical: null,
  edge: null,
  bank: null,
  planned: false,
  inserted: false,
} as const;

export function presentOf(known: Known): Present {
  return (
    chosenOf(known) ??
    underWay(known) ??
    edgeDue(known, known.start) ??
    (known.planned.length > 0 ? plannedDue(known) : unplannedDue(known)) ??
    begunDue(known) ??
    edgeDue(known, other(known.start)) ?? { ...NOWHERE, asked: { ask: "nothing" } }
  );
}

/** Return the planned positions not yet read, in the order of the plan; those passed by included. */
export function toCome(known: Pick<Known, "channel" | "planned">): string[] {
  const { verticals } = known.channel;
  return known.planned.filter(
    (tape) => inside(known.channel, tape) && !verticals.some((read) => same(read.tape, tape)),
  );
}

/** Return the position one step on: as far from the last vertical as that from the one before. */
export function sameStep(known: Pick<Known, "channel" | "growing">): string | null {
  const called = known.channel.verticals.filter(({ inserted, edge }) => !inserted && edge === null);
  const [before, last] = called.slice(-2);
  if (before === undefined || last === undefined) return null;
  const on = further(last.tape, last.tape, before.tape);
  const forward = compare(on, last.tape) > 0 === known.growing && !same(on, last.tape);
  return forward && inside(known.channel, on) ? on : null;
}

/** Whether the tape's numbers grow from the start bank on: as planned, else as the edges stand. */
export function growsFromStart(
  planned: readonly string[],
  channel: ChannelSaid,
  start: Edge,
  zero: Edge | null,
): boolean {
  if (planned.length > 1) return compare(planned.at(-1)!, planned[0]!) > 0;
  const [first, last] = [edgeOf(channel, start), edgeOf(channel, other(start))];
  if (first && last) return compare(last.tape, first.tape) > 0;
  return zero === null || zero === start;
}

function chosenOf(known: Known): Present | null {
  const { chosen, channel } = known;
  if (chosen === null) return null;
  if (chosen.go === "type") {
    return { ...NOWHERE, inserted: chosen.inserted, asked: { ask: "tape", edge: null } };
  }
  if (chosen.go === "edge") {
    const { edge, bank, tape } = chosen;
    const asked: Asked = tape === null ? { ask: "tape", edge } : { ask: "depth" };
    return { ...NOWHERE, vertical: edgeOf(channel, edge) ?? null, tape, edge, bank, asked };
  }
  if (chosen.go === "tape") {
    const { tape, inserted } = chosen;
    const planned = known.planned.some((position) => same(position, tape));
    return { ...NOWHERE, tape, inserted, planned, asked: { ask: "depth" } };
  }
  const vertical = channel.verticals.find(({ key }) => key === chosen.vertical);
  if (vertical === undefined) return null;
  const asked: Asked = {
    ask: "velocity",
    fraction: chosen.fraction,
    point: 1,
    points: 1,
    sure: true,
    again: true,
  };
  return { ...at(vertical), asked };
}

/** Return the vertical begun last, if something is still asked there. */
function underWay(known: Known): Present | null {
  const last = known.channel.verticals.at(-1);
  if (last === undefined || known.left.has(last.key)) return null;
  const asked = stillAsked(last, known.points);
  return asked === null ? null : { ...at(last), asked };
}

/** Return a vertical of which nothing was read but the tape, before the crew is sent to the bank. */
function begunDue(known: Known): Present | null {
  const begun = known.channel.verticals.find(
    ({ key, edge, depth, dry, readings }) =>
      edge === null && depth === null && !dry && readings.length === 0 && !known.left.has(key),
  );
  return begun ? { ...at(begun), asked: { ask: "depth" } } : null;
}

function stillAsked(vertical: VerticalSaid, pointsOf: Known["points"]): Asked | null {
  if (vertical.dry) return null;
  if (vertical.edge !== null && (vertical.bank === null || vertical.bank === "sloping")) return null;
  if (vertical.depth === null || !isFigure(vertical.depth)) return { ask: "depth" };
  if (vertical.edge !== null) return null;
  if (same(vertical.depth, "0")) return null;
  if (vertical.readings.some(({ fraction }) => fraction === null)) return null;
  const said = pointsOf(vertical);
  if (said === null) {
    if (vertical.readings.length > 0) return null;
    return { ask: "velocity", fraction: 0.6, point: 1, points: 1, sure: false, again: false };
  }
  const due = said.findIndex((point) => !vertical.readings.some((read) => read.fraction === point));
  if (due < 0) return null;
  const fraction = said[due] ?? null;
  return { ask: "velocity", fraction, point: due + 1, points: said.length, sure: true, again: false };
}

function edgeDue(known: Known, edge: Edge): Present | null {
  if (edgeOf(known.channel, edge)) return null;
  return { ...NOWHERE, edge, bank: "sloping", asked: { ask: "tape", edge } };
}

function plannedDue(known: Known): Present | null {
  const { verticals } = known.channel;
  const passed = verticals.filter(({ inserted, edge }) => !inserted && edge !== other(known.start)).at(-1);
  const tape = toCome(known).find(
    (position) => passed === undefined || beyond(position, passed.tape, known.growing),
  );
  return tape === undefined ? null : { ...NOWHERE, tape, planned: true, asked: { ask: "depth" } };
}

/** Where nothing is planned only the recorder knows when the other bank is reached. */
function unplannedDue(known: Known): Present | null {
  const arrived = known.channel.verticals.at(-1)?.edge === other(known.start);
  const begun = known.channel.verticals.some(({ edge }) => edge === null);
  return arrived && begun ? null : { ...NOWHERE, asked: { ask: "tape", edge: null } };
}

function beyond(position: string, passed: string, growing: boolean): boolean {
  return growing ? compare(position, passed) > 0 : compare(position, passed) < 0;
}

function inside(channel: ChannelSaid, tape: string): boolean {
  const [left, right] = [edgeOf(channel, "left"), edgeOf(channel, "right")];
  if (!left || !right) return true;
  return compare(tape, left.tape) * compare(tape, right.tape) < 0;
}

function at(vertical: VerticalSaid): Omit<Present, "asked"> {
  const { tape, edge, bank, inserted } = vertical;
  return { vertical, tape, edge, bank, inserted, planned: false };
}
