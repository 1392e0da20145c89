/** What to do next after the first pass, as the page tells it. */

import type { NextAct, View } from "../view.ts";

/** So many acts beside the first are told: nobody weighs more of them in the water. */
const MOST_OTHERS = 3;

export interface Told {
  /** What is to be done, or that it is enough. */
  readonly first: NextAct | null;
  /** What may be done instead. */
  readonly others: readonly NextAct[];
  /** That it is enough all the same, where the rule set has something before it. */
  readonly last: NextAct | null;
}

export function told(next: readonly NextAct[]): Told {
  const [first = null, ...rest] = next;
  const last = rest.find(({ kind }) => kind === "enough") ?? null;
  return { first, others: rest.filter((act) => act !== last).slice(0, MOST_OTHERS), last };
}

/** Return what an act is, in a few words. */
export function titleOf({ kind, tape, words }: NextAct, unit: string): string {
  const at = `at ${tape} ${unit}`;
  switch (kind) {
    case "vertical":
      return `One more vertical ${at}`;
    case "second point":
      return `A second point ${at}`;
    case "longer exposure":
      return `Read longer ${at}`;
    case "no more":
      return words.startsWith("Nothing") ? "Nobody is sent in again" : "Nothing more is worth its time";
    case "enough":
      return words.startsWith("Enough") ? "Enough" : "Or leave it, against the rule set";
    case "elsewhere":
      return "Not in this section";
  }
}

/** Return what an act is expected to leave open, and how long it takes. */
export function figuresOf({ kind, percent, seconds }: NextAct): string {
  if (kind === "elsewhere") return `± ${percent} % at the best`;
  if (seconds === 0) return `± ${percent} % as it stands`;
  return `± ${percent} % expected, about ${Math.max(1, Math.round(seconds / 60))} min`;
}

/** Return why nothing is told; null where something is. */
export function whyNothing({ finished, next, result }: View): string | null {
  if (next.length > 0) return null;
  if (!finished) return "It is told once all verticals and both edges of water are read.";
  if (result === null) return "It cannot be told without a discharge.";
  return (
    "Nobody is sent anywhere now: a finding calls the crew out of the water, doubts a figure, " +
    "says that somebody is alone (until a second name is written) or that the water rose, or is to be fixed first."
  );
}

/** Return what is wrong with a target, in one sentence; null where nothing is. */
export function targetFault(text: string): string | null {
  const wanted = Number(text);
  return wanted > 0 && wanted <= 100 ? null : `It must be above 0 and up to 100 (got ${text}).`;
}
