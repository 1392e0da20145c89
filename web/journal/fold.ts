/**
 * What a journal comes to: for everything that was said, what stands there now, and all that stood
 * there before. Any order of the entries gives the same; the vectors in tests/vectors hold it to
 * the fold in Python.
 */

import { canonical, compareTexts, contentOf, type Entry, type Value } from "./entry.ts";

export interface Said {
  readonly what: string;
  readonly value: Value;
  /** The entry that gives the value: the last one in order. */
  readonly entry: Entry;
  /** All entries of this what, in order. */
  readonly history: readonly Entry[];
  /** Those that no other entry replaces; more than one where devices did not know of each other. */
  readonly heads: readonly Entry[];
  /** Whether heads say different things. */
  readonly conflict: boolean;
}

export type Folded = ReadonlyMap<string, Said>;

export class JournalFault extends Error {
  override readonly name = "JournalFault";
}

/** Compare by sequence, then device, then id: the same order on every device. */
export function inOrder(a: Entry, b: Entry): number {
  return a.sequence - b.sequence || compareTexts(a.device, b.device) || compareTexts(a.id, b.id);
}

/** Return the fold of entries in any order; JournalFault as from `united`. */
export function fold(entries: Iterable<Entry>): Folded {
  const byWhat = new Map<string, Entry[]>();
  for (const entry of united(entries)) {
    const there = byWhat.get(entry.what);
    if (there) there.push(entry);
    else byWhat.set(entry.what, [entry]);
  }
  const folded = new Map<string, Said>();
  for (const [what, history] of byWhat) {
    history.sort(inOrder);
    const replaced = new Set(history.flatMap((entry) => entry.replaces ?? []));
    const heads = history.filter((entry) => !replaced.has(entry.id));
    const entry = history[history.length - 1]!;
    const conflict = new Set(heads.map((head) => canonical(head.value))).size > 1;
    folded.set(what, { what, value: entry.value, entry, history, heads, conflict });
  }
  return folded;
}

/** Return the entries of one gauging from several devices in order, each once; else JournalFault. */
export function united(...lists: Iterable<Entry>[]): Entry[] {
  const byId = new Map<string, Entry>();
  for (const entries of lists) {
    for (const entry of entries) {
      const there = byId.get(entry.id);
      if (there === undefined) byId.set(entry.id, entry);
      else if (contentOf(there) !== contentOf(entry)) {
        throw new JournalFault(`entry ${entry.id} has two contents; an entry never changes`);
      }
    }
  }
  const ordered = [...byId.values()].sort(inOrder);
  const other = ordered.find(({ gauging }) => gauging !== ordered[0]!.gauging);
  if (other === undefined) return ordered;
  throw new JournalFault(`a journal is of one gauging (got ${ordered[0]!.gauging}, ${other.gauging})`);
}

/** Return the value that stands at a what, undefined where nothing was ever said. */
export function valueAt(folded: Folded, what: string): Value | undefined {
  return folded.get(what)?.value;
}

/** Return the text that stands at a what, undefined where there is none or it was taken out. */
export function textAt(folded: Folded, what: string): string | undefined {
  const value = valueAt(folded, what);
  return typeof value === "string" ? value : undefined;
}

/** Return the keys under a prefix in the order of their first entries: crew/a, crew/b → a, b. */
export function keysUnder(folded: Folded, prefix: string): string[] {
  const first = new Map<string, Entry>();
  for (const { what, history } of folded.values()) {
    if (!what.startsWith(`${prefix}/`)) continue;
    const key = what.slice(prefix.length + 1).split("/", 1)[0]!;
    const there = first.get(key);
    if (there === undefined || inOrder(history[0]!, there) < 0) first.set(key, history[0]!);
  }
  return [...first].sort(([, a], [, b]) => inOrder(a, b)).map(([key]) => key);
}
