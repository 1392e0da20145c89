/** A paper sheet as rows and cells: what stands there, what a cell says, and where the keys lead. */

import type { Value } from "../../journal/entry.ts";
import { keysUnder, textAt, valueAt, type Folded } from "../../journal/fold.ts";
import { further, isFigure } from "../../page/figures.ts";
import type { Saying } from "../../page/gauging.svelte.ts";
import { whatOf, type Bank, type Edge } from "../../page/section.ts";
import type { PaperColumn } from "./columns.ts";

export interface PaperRow {
  readonly key: string;
  /** Cell by cell in the order of the columns, as typed; "" where nothing stands. */
  readonly cells: readonly string[];
  readonly edge: Edge | null;
  readonly bank: Bank | null;
  readonly dry: boolean;
}

/** Return the rows in the order in which they were begun; those taken out are not among them. */
export function rowsOf(folded: Folded, channel: string, columns: readonly PaperColumn[]): PaperRow[] {
  return keysUnder(folded, `channels/${channel}/verticals`).flatMap((key): PaperRow[] => {
    const at = (part: string) => whatOf(channel, key, part);
    const cells = columns.map((column) => cellText(folded, channel, key, column));
    const edge = valueAt(folded, at("edge"));
    const bank = valueAt(folded, at("bank"));
    const row: PaperRow = {
      key,
      cells,
      edge: edge === "left" || edge === "right" ? edge : null,
      bank: bank === "sloping" || bank === "steep" || bank === "undercut" ? bank : null,
      dry: valueAt(folded, at("dry")) === true,
    };
    const empty = cells.every((text) => text === "") && row.edge === null && !row.dry;
    return empty ? [] : [row];
  });
}

/** Return what a cell says once it is typed; "" takes out what stood there. */
export function cellSayings(folded: Folded, channel: string, key: string, { holds }: PaperColumn, text: string): Saying[] {
  if ("part" in holds) {
    const what = whatOf(channel, key, holds.part);
    return said(folded, what, text === "" ? null : text);
  }
  const { fraction, member } = holds;
  const what = whatOf(channel, key, `readings/${readingKey(folded, channel, key, fraction)}`);
  const there = (valueAt(folded, what) ?? {}) as { readonly [name: string]: Value };
  const others = Object.entries(there).filter(([name]) => name !== member && name !== "fraction");
  const members = [...others, ...(text === "" ? [] : [[member, text] as const])];
  if (members.length === 0) return said(folded, what, null);
  return said(folded, what, Object.fromEntries([...(fraction === null ? [] : [["fraction", fraction] as const]), ...members]));
}

/** Letters in the cell of the depth, where a sheet has a word in the place of a figure. */
export const DEPTH_WORDS = { l: "left edge of water, sloping", r: "right edge of water, sloping", d: "dry" } as const;

/** Return what a letter in the cell of the depth says; null where it is none. */
export function depthWordSayings(folded: Folded, channel: string, key: string, text: string): Saying[] | null {
  const word = text.trim().toLowerCase();
  const at = (part: string) => whatOf(channel, key, part);
  if (word === "d") return [...said(folded, at("depth"), null), ...said(folded, at("dry"), true)];
  if (word !== "l" && word !== "r") return null;
  return edgeSayings(folded, channel, key, word === "l" ? "left" : "right", "sloping");
}

/** Return what makes a row an edge of water, or none; a sloping one has depth 0 by what it is. */
export function edgeSayings(folded: Folded, channel: string, key: string, edge: Edge | null, bank: Bank | null): Saying[] {
  const at = (part: string) => whatOf(channel, key, part);
  return [
    ...said(folded, at("edge"), edge),
    ...said(folded, at("bank"), edge === null ? null : bank),
    ...said(folded, at("dry"), null),
    ...(edge !== null && bank === "sloping" && textAt(folded, at("depth")) === undefined
      ? said(folded, at("depth"), "0")
      : []),
  ];
}

/** Return what takes a row out; it stays in the journal. */
export function rowOut(folded: Folded, channel: string, key: string, reason: string): Saying[] {
  const prefix = whatOf(channel, key, "");
  return [...folded.values()]
    .filter(({ what, value }) => what.startsWith(prefix) && value !== null)
    .map(({ what }) => ({ what, value: null, reason }));
}

/** Return what a ditto mark stands for: what stands above; along the tape the same distance again. */
export function ditto(rows: readonly PaperRow[], row: number, column: number, columns: readonly PaperColumn[]): string | null {
  const above = rows[row - 1]?.cells[column] ?? "";
  if (columns[column]?.id !== "tape") return above || null;
  const before = rows[row - 2]?.cells[column] ?? "";
  if (!isFigure(above) || !isFigure(before)) return null;
  return further(above, above, before);
}

export interface Spot {
  readonly row: number;
  readonly column: number;
}

/** Return where a key leads from a cell; null where it stays with the figure that is being typed. */
export function led(
  { row, column }: Spot,
  { key, shift }: { readonly key: string; readonly shift: boolean },
  { rows, columns }: { readonly rows: number; readonly columns: number },
  caret: "start" | "end" | "all" | "inside",
): Spot | null {
  const spot = (r: number, c: number) => (r < 0 || r >= rows ? null : { row: r, column: c });
  if (key === "ArrowDown") return spot(row + 1, column);
  if (key === "ArrowUp") return spot(row - 1, column);
  const onward = (key === "Enter" && !shift) || (key === "ArrowRight" && (caret === "end" || caret === "all"));
  if (onward) return column + 1 < columns ? { row, column: column + 1 } : spot(row + 1, 0);
  const back = (key === "Enter" && shift) || (key === "ArrowLeft" && (caret === "start" || caret === "all"));
  if (back) return column > 0 ? { row, column: column - 1 } : spot(row - 1, columns - 1);
  return null;
}

function cellText(folded: Folded, channel: string, key: string, { holds }: PaperColumn): string {
  if ("part" in holds) return textAt(folded, whatOf(channel, key, holds.part)) ?? "";
  const reading = readingKey(folded, channel, key, holds.fraction);
  const value = valueAt(folded, whatOf(channel, key, `readings/${reading}`)) as { readonly [name: string]: Value } | null | undefined;
  const text = value?.[holds.member];
  return typeof text === "string" ? text : "";
}

/** The key of the reading at a point: the one that is there, else one that the point itself gives. */
function readingKey(folded: Folded, channel: string, key: string, fraction: number | null): string {
  const prefix = whatOf(channel, key, "readings");
  const there = keysUnder(folded, prefix).find((reading) => {
    const value = valueAt(folded, `${prefix}/${reading}`) as { readonly fraction?: unknown } | null;
    return value !== null && (value?.fraction ?? null) === fraction;
  });
  return there ?? (fraction === null ? "p" : `p${Math.round(fraction * 100)}`);
}

/** Nothing where nothing stood and nothing is to stand. */
function said(folded: Folded, what: string, value: Value): Saying[] {
  return value === null && (valueAt(folded, what) ?? null) === null ? [] : [{ what, value }];
}
