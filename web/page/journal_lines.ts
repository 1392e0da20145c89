/** The journal of a gauging as lines to read: all entries in order, what no longer holds marked. */

import type { Entry } from "../journal/entry.ts";
import { inOrder, type Folded } from "../journal/fold.ts";
import { deviceNames } from "./devices.ts";
import { saidOf, thingOf } from "./said_words.ts";

/** holds, was struck through by a later entry, or is one of several that two devices said. */
export type Standing = "holds" | "struck" | "two say";

export interface JournalLine {
  readonly id: string;
  readonly thing: string;
  readonly words: string;
  readonly standing: Standing;
  /** Whether it says that something is taken out. */
  readonly out: boolean;
  readonly at: string;
  readonly by: string | undefined;
  /** undefined where only one device ever wrote. */
  readonly device: string | undefined;
  readonly reason: string | undefined;
}

/** Return the lines of a journal in order; own is the name of this device. */
export function journalLines(entries: readonly Entry[], folded: Folded, own: string): JournalLine[] {
  const names = deviceNames(entries, own);
  return [...entries].sort(inOrder).map((entry) => {
    const said = folded.get(entry.what);
    const head = said?.heads.some(({ id }) => id === entry.id) ?? false;
    return {
      id: entry.id,
      thing: thingOf(folded, entry.what, entry.value),
      words: saidOf(entry.what, entry.value),
      standing: !head ? "struck" : said?.conflict ? "two say" : "holds",
      out: entry.value === null,
      at: entry.at,
      by: entry.by,
      device: names.size > 1 ? names.get(entry.device) : undefined,
      reason: entry.reason,
    };
  });
}
