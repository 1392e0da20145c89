/** The proofs of the meter at the stream: a timed spin, or what it shows in still water. */

import { keysUnder, textAt, valueAt, type Folded } from "../../journal/fold.ts";

export type ProofKind = "spin" | "zero";

export interface ProofSaid {
  readonly key: string;
  readonly kind: ProofKind;
  readonly when: "before" | "after";
  /** Seconds of a spin, or the velocity of a zero, as called. */
  readonly figure: string;
  readonly at: string;
}

const TURNS = ["propeller", "impeller", "rotor", "rotating", "cup"];
const STANDS_STILL = ["magnetic", "acoustic", "doppler"];

export function proofsOf(folded: Folded): ProofSaid[] {
  return keysUnder(folded, "meter/checks").flatMap((key): ProofSaid[] => {
    const said = folded.get(`meter/checks/${key}`);
    const proof = said?.value as { kind?: ProofKind; when?: "before" | "after" } | null | undefined;
    if (!said || !proof?.kind || !proof.when) return [];
    const { seconds, value } = proof as { seconds?: string; value?: string };
    const [first] = said.history;
    const figure = (proof.kind === "spin" ? seconds : value) ?? "";
    return [{ key, kind: proof.kind, when: proof.when, figure, at: first!.at }];
  });
}

/** Return which proofs suit the meter: one where its kind is clear, else both. */
export function kindsFor(folded: Folded): readonly ProofKind[] {
  const kind = (textAt(folded, "meter/kind") ?? "").toLocaleLowerCase("en");
  const rated = (valueAt(folded, "meter/rating") ?? null) !== null;
  if (rated || textAt(folded, "meter/rotor") || TURNS.some((word) => kind.includes(word))) {
    return ["spin"];
  }
  if (STANDS_STILL.some((word) => kind.includes(word))) return ["zero"];
  return ["spin", "zero"];
}

/** Whether anything was said of a meter at all. */
export function meterNamed(folded: Folded): boolean {
  return keysUnder(folded, "meter").some((key) =>
    key === "checks" ? proofsOf(folded).length > 0 : (valueAt(folded, `meter/${key}`) ?? null) !== null,
  );
}
