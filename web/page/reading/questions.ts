/** Which of the engine's findings are put to the recorder now: at the row, as questions. */

import { rankOf } from "../checking/findings.ts";
import type { Fault, FindingView, View } from "../view.ts";

export interface Questions {
  /** About the present or the last vertical, and whatever calls the crew out; gravest first. */
  readonly here: readonly FindingView[];
  /** How many more are open about other verticals or the gauging as a whole. */
  readonly elsewhere: number;
  /** What cannot enter the record as it was called. */
  readonly faults: readonly Fault[];
}

/** Whether a finding calls the crew out of the water. */
export function callsOut(finding: FindingView): boolean {
  return finding.severity === "stop" || finding.comes_out;
}

/** Whether a finding is about people in the water: then the leader decides, and nothing is guessed. */
export function isForLeader(finding: FindingView): boolean {
  return callsOut(finding) || finding.leader_decides;
}

/**
 * Return what is put about these verticals. At the one `underWay` not all was called yet: what is
 * only incomplete there is no question, and what looks like a slip is.
 */
export function questionsAt(
  view: View | null,
  verticals: readonly (string | undefined)[],
  underWay: string | undefined = undefined,
): Questions {
  const open = (view?.findings ?? []).filter((finding) => finding.open);
  const tooEarly = ({ verticals: about, instead, leader_decides }: FindingView) =>
    about.length === 1 && about[0] === underWay && instead === null && !leader_decides;
  const here = open.filter(
    (finding) =>
      callsOut(finding) ||
      (finding.verticals.some((key) => verticals.includes(key)) && !tooEarly(finding)),
  );
  return {
    here: here.sort(
      (a, b) =>
        Number(callsOut(b)) - Number(callsOut(a)) ||
        rankOf(a) - rankOf(b),
    ),
    elsewhere: open.length - here.length,
    faults: view?.faults ?? [],
  };
}
