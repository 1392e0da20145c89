/** What two devices said differently without knowing of each other, for a person to settle. */

import { canonical, type Entry, type Value } from "../journal/entry.ts";
import type { Folded } from "../journal/fold.ts";
import { deviceNames } from "./devices.ts";
import type { Saying } from "./gauging.svelte.ts";
import { thingOf, wordsOf } from "./said_words.ts";

export interface Choice {
  readonly value: Value;
  readonly words: string;
  /** Who said so, each with the device and when. */
  readonly said: readonly { readonly by: string; readonly device: string; readonly at: string }[];
  /** Whether it is what counts until somebody chooses. */
  readonly taken: boolean;
}

export interface Conflict {
  readonly what: string;
  readonly thing: string;
  readonly choices: readonly Choice[];
}

/** Return all conflicts, the oldest first; own is the name of this device. */
export function conflictsOf(folded: Folded, own: string): Conflict[] {
  const names = deviceNames([...folded.values()].flatMap(({ history }) => history), own);
  return [...folded.values()]
    .filter((said) => said.conflict)
    .sort((a, b) => a.entry.sequence - b.entry.sequence)
    .map(({ what, heads, entry }) => ({
      what,
      thing: thingOf(folded, what, entry.value),
      choices: alike(heads).map((same) => ({
        value: same[0]!.value,
        words: wordsOf(same[0]!.value),
        said: same.map((head) => ({
          by: head.by ?? "nobody named",
          device: names.get(head.device) ?? head.device,
          at: head.at,
        })),
        taken: canonical(same[0]!.value) === canonical(entry.value),
      })),
    }));
}

/** Return entries in groups that say the same. */
function alike(entries: readonly Entry[]): Entry[][] {
  const groups = new Map<string, Entry[]>();
  for (const entry of entries) {
    const group = groups.get(canonical(entry.value));
    if (group) group.push(entry);
    else groups.set(canonical(entry.value), [entry]);
  }
  return [...groups.values()];
}

/** Return the entry that takes one of several values in the place of them all. */
export function settled({ what, choices }: Conflict, choice: Choice): Saying {
  const others = choices.filter((one) => one !== choice).map(({ words }) => words);
  return {
    what,
    value: choice.value,
    reason: `two devices differed; this one holds, not ${others.join(", not ")}`,
  };
}
