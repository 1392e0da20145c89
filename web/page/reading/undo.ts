/**
 * Taking back what was said last: new entries that put back what stood before. Nothing leaves the
 * journal, and what was taken back can be brought back in the same way.
 */

import type { Entry, Value } from "../../journal/entry.ts";
import { fold, textAt, type Folded } from "../../journal/fold.ts";
import type { Saying } from "../gauging.svelte.ts";
import { calledOf, readingFrom } from "../section.ts";

export const TAKEN_BACK = "taken back";
export const BROUGHT_BACK = "brought back";

export interface Undo {
  readonly sayings: readonly Saying[];
  /** What goes or comes, in words: "depth 1.05 at 14.5". */
  readonly words: string;
}

/** Entries that were said with one press. */
type Press = readonly Entry[];

/**
 * Return what takes back the last press of this device that is still in force; null if none is. Where
 * another device said something else in its place since, return why it stays, in one sentence.
 */
export function takeBack(entries: readonly Entry[], device: string): Undo | string | null {
  const inForce: Press[] = [];
  for (const press of presses(entries, device)) {
    if (press[0]!.reason === TAKEN_BACK) inForce.pop();
    else inForce.push(press);
  }
  const last = inForce.at(-1);
  if (last === undefined) return null;
  const folded = fold(entries);
  const stands = last.every(({ what, id }) => folded.get(what)?.heads.some((head) => head.id === id));
  if (stands) return undone(last, folded, TAKEN_BACK);
  return `Not taken back: ${wordsOf(last.at(-1)!, folded, last)} was changed by another device since.`;
}

/** Return what brings back that which the last press took back; null if it took nothing back. */
export function bringBack(entries: readonly Entry[], device: string): Undo | null {
  const last = presses(entries, device).at(-1);
  return last?.[0]!.reason === TAKEN_BACK ? undone(last, fold(entries), BROUGHT_BACK) : null;
}

/** Return what an entry says, in words. */
export function wordsOf(entry: Entry, folded: Folded, press: Press = [entry]): string {
  const [subject, , , key, part] = entry.what.split("/");
  if (subject === "answers") return "the answer to a question";
  const tape = lastText(folded, entry.what.split("/").slice(0, 4).join("/") + "/tape");
  const place = tape === null ? "" : ` at ${tape}`;
  const value = entry.value;
  const edge = press.find(({ what }) => what.endsWith(`/${key}/edge`))?.value;
  if (typeof edge === "string") return `${edge} edge${place}`;
  if (part === "readings") {
    const read = readingFrom(value);
    if (read?.counts) return `counts ${calledOf(read)}${place}`;
    return `velocity ${read?.value ?? ""}${place}`;
  }
  if (part === "dry") return `dry${place}`;
  if (part === "tape") return `tape position ${typeof value === "string" ? value : ""}`;
  if (part === undefined) return "the channel's name";
  if (part === "angle_coefficient") return `angle coefficient ${String(value)}${place}`;
  if (part === "remark" || part === "bank") return `${part}${place}`;
  return `${part} ${typeof value === "string" ? value : ""}${place}`;
}

function presses(entries: readonly Entry[], device: string): Press[] {
  const presses: Entry[][] = [];
  for (const entry of entries) {
    if (entry.device !== device || !/^(channels|answers)\//.test(entry.what)) continue;
    const last = presses.at(-1);
    if (last && last[0]!.at === entry.at && last[0]!.reason === entry.reason) last.push(entry);
    else presses.push([entry]);
  }
  return presses;
}

function undone(press: Press, folded: Folded, reason: string): Undo {
  // What is taken back is told as it was called; what is brought back, as it stood before.
  const told = press.at(-1)!;
  const shown = reason === TAKEN_BACK ? told : { ...told, value: before(told, folded) };
  return {
    sayings: press.map((entry) => ({ what: entry.what, value: before(entry, folded), reason })),
    words: wordsOf(shown, folded, press.map((entry) => ({ ...entry, value: reason === TAKEN_BACK ? entry.value : before(entry, folded) }))),
  };
}

function before(entry: Entry, folded: Folded): Value {
  const history = folded.get(entry.what)?.history ?? [];
  const place = history.findIndex(({ id }) => id === entry.id);
  return history[place - 1]?.value ?? null;
}

/** The text that stands there, or stood there last before it was taken out. */
function lastText(folded: Folded, what: string): string | null {
  const stands = textAt(folded, what);
  if (stands !== undefined) return stands;
  const texts = (folded.get(what)?.history ?? []).map(({ value }) => value);
  return (texts.filter((value) => typeof value === "string").at(-1) as string | undefined) ?? null;
}
