/** Which gaugings of a survey can be shown by themselves, each under a name in the address. */

import { SEVERITIES, SEVERITY_WORDS } from "../page/severities.ts";
import type { Severity } from "../page/view.ts";
import { STATES, type DeskSurvey, type Row, type State } from "./asking/answers.ts";

export interface GaugingChoice {
  /** As it stands in the address. */
  readonly which: string;
  readonly words: string;
  readonly rows: readonly Row[];
}

const OPEN: Readonly<Partial<Record<Severity, "open_stop" | "open_fix" | "open_explain">>> = {
  stop: "open_stop",
  "fix now": "open_fix",
  explain: "open_explain",
};

/** Return the name of a state or severity in an address. */
export function whichOf(name: State | Severity): string {
  return name.replaceAll(" ", "-");
}

/** Return every choice but that of all gaugings, be it of none. */
export function gaugingChoices({ rows, meters }: DeskSurvey): GaugingChoice[] {
  const of = (ids: readonly string[]) => rows.filter(({ id }) => ids.includes(id));
  return [
    ...STATES.map((state) => ({
      which: whichOf(state),
      words: state,
      rows: rows.filter((row) => row.state === state),
    })),
    ...SEVERITIES.flatMap((severity): GaugingChoice[] => {
      const open = OPEN[severity];
      if (open === undefined) return [];
      const words = `findings open: ${SEVERITY_WORDS[severity].toLowerCase()}`;
      return [{ which: whichOf(severity), words, rows: rows.filter((row) => row[open] > 0) }];
    }),
    {
      which: "overdue",
      words: "made after a calibration was due",
      rows: of(meters.flatMap((meter) => meter.overdue)),
    },
    {
      which: "unproven",
      words: "without a check of the meter",
      rows: of(meters.flatMap((meter) => meter.unproven)),
    },
  ];
}
