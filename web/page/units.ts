/** The units in which a gauging is called, to be shown beside every figure. */

import { textAt, type Folded } from "../journal/fold.ts";

export interface UnitsCalled {
  /** Of the tape and the staff gauge; "?" until it is said. */
  readonly length: string;
  readonly depth: string;
  readonly velocity: string;
}

export function unitsCalled(folded: Folded): UnitsCalled {
  const length = textAt(folded, "units/length") ?? "?";
  return {
    length,
    depth: textAt(folded, "units/depth") ?? length,
    velocity: textAt(folded, "units/velocity") ?? "?",
  };
}
