/** The decisions at the gate: whether the crew wades, who said so and why. */

import type { Entry } from "../journal/entry.ts";
import { inOrder, keysUnder, type Folded } from "../journal/fold.ts";

export interface Decision {
  readonly key: string;
  readonly safe: boolean;
  readonly by: string;
  readonly why?: string;
  readonly last_product?: string;
  readonly cold?: boolean;
  readonly alone?: boolean;
  readonly at: string;
}

/** Return the decisions in the order in which they were made. */
export function decisions(folded: Folded): Decision[] {
  const made: { entry: Entry; decision: Decision }[] = [];
  for (const key of keysUnder(folded, "wading")) {
    const said = folded.get(`wading/${key}`);
    const value = said?.value as Omit<Decision, "key" | "at"> | null | undefined;
    if (said === undefined || value === null || value === undefined) continue;
    made.push({ entry: said.entry, decision: { ...value, key, at: said.entry.at } });
  }
  return made.sort((a, b) => inOrder(a.entry, b.entry)).map(({ decision }) => decision);
}

/** Return the decision that holds now, null where nobody has decided. */
export function lastDecision(folded: Folded): Decision | null {
  return decisions(folded).at(-1) ?? null;
}
