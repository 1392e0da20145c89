/** Which of the engine's findings are put to the recorder now: at the row, as questions. */

import { SEVERITIES } from "../checking/findings.ts";
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

export function questionsAt(view: View | null, verticals: readonly (string | undefined)[]): Questions {
  const open = (view?.findings ?? []).filter((finding) => finding.open);
  const here = open.filter(
    (finding) => callsOut(finding) || finding.verticals.some((key) => verticals.includes(key)),
  );
  return {
    here: here.sort(
      (a, b) =>
        Number(callsOut(b)) - Number(callsOut(a)) ||
        SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity),
    ),
    elsewhere: open.length - here.length,
    faults: view?.faults ?? [],
  };
}
