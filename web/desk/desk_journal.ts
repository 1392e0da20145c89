/** The journal of a gauging as the office reads it: who said what when, and what it stands in place of. */

import type { Entry } from "../journal/entry.ts";
import type { Folded } from "../journal/fold.ts";
import { journalLines, type JournalLine } from "../page/journal_lines.ts";
import { saidOf } from "../page/said_words.ts";

export interface DeskLine extends JournalLine {
  /** What stood there before, in words; "" where nothing did. */
  readonly replaced: string;
  /** Where it was said: a device, or the sheet that it came from. */
  readonly from: string;
  /** Whether it changed something, or is a word on the gauging as a whole. */
  readonly change: boolean;
}

/** Return the verdict that an entry says, null where it says none. */
function verdictOf({ what, value }: Entry): string | null {
  const { verdict } = (value ?? {}) as { readonly verdict?: unknown };
  return what === "review" && typeof verdict === "string" ? verdict : null;
}

const ON_THE_WHOLE = /^(review|closed|answers\/)/;

/** Return the lines in order; own is the name of this device. */
export function deskLines(entries: readonly Entry[], folded: Folded, own: string): DeskLine[] {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  return journalLines(entries, folded, own).map((line) => {
    const entry = byId.get(line.id)!;
    const before = (entry.replaces ?? []).flatMap((id) => byId.get(id) ?? []);
    return {
      ...line,
      words: verdictOf(entry) ?? line.words,
      replaced: [...new Set(before.map((one) => verdictOf(one) ?? saidOf(one.what, one.value)))].join("; and "),
      from: entry.device.startsWith("sheet-") ? "the sheet" : (line.device ?? ""),
      change: before.length > 0 || ON_THE_WHOLE.test(entry.what),
    };
  });
}
