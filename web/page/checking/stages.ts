/** The readings of the staff gauge during the visit, and how far the level moved. */

import { keysUnder, valueAt, type Folded } from "../../journal/fold.ts";
import { compare, further, isFigure } from "../figures.ts";

export interface StageSaid {
  readonly key: string;
  /** As read. */
  readonly value: string;
  readonly at: string | undefined;
}

/** Return the stages that stand, in the order of their times; those without a time first. */
export function stagesOf(folded: Folded): StageSaid[] {
  return keysUnder(folded, "stage")
    .flatMap((key): StageSaid[] => {
      const said = valueAt(folded, `stage/${key}`) as { value?: unknown; at?: unknown } | null;
      if (typeof said?.value !== "string") return [];
      return [{ key, value: said.value, at: typeof said.at === "string" ? said.at : undefined }];
    })
    .sort((a, b) => moment(a) - moment(b));
}

/** Return how far the last stage is from the first, in words; null where there are not two. */
export function changeWords(stages: readonly StageSaid[], unit: string): string | null {
  const figures = stages.map(({ value }) => value).filter(isFigure);
  const [first, last] = [figures[0], figures.at(-1)];
  if (figures.length < 2 || first === undefined || last === undefined) return null;
  const difference = further(last, "0", first);
  const way = compare(last, first);
  if (way === 0) return "The level is the same as at first.";
  const amount = `${difference.replace("-", "")} ${unit}`;
  return `The level is ${amount} ${way > 0 ? "higher" : "lower"} than at first.`;
}

function moment({ at }: StageSaid): number {
  const ms = at === undefined ? Number.NaN : Date.parse(at);
  return Number.isNaN(ms) ? -Infinity : ms;
}
