/** The plan as it stands: where to stand in the water, from the start bank on. */

import { textAt, valueAt, type Folded } from "../journal/fold.ts";
import { edgeOf, type Side } from "./edges.ts";
import { compare, further, isFigure, same } from "./figures.ts";

export const RULES = [
  { value: "equal", words: "equal distances", more: "from edge to edge" },
  { value: "cell-centres", words: "centres of equal cells", more: "half a distance from the edges" },
  { value: "skip-first-cell", words: "first cell unread", more: "for a shallow start" },
  { value: "equal-flow", words: "equal flow", more: "by the last visit, closer where more water runs" },
] as const;

export type PlanRule = (typeof RULES)[number]["value"];

export interface PlanSaid {
  /** "by hand" where no rule laid it out. */
  readonly rule: PlanRule | "by hand";
  readonly verticals: number;
  /** The smallest graduation of the tape. */
  readonly resolution: string;
  readonly minimum_spacing?: string;
  readonly positions: readonly string[];
}

/** Both edges as read on the tape, and the bank of the start. */
export interface Water {
  readonly left: string;
  readonly right: string;
  readonly start: Side;
}

/** A depth that was sounded before the first velocity, for the plan alone. */
export interface Sounding {
  readonly tape: string;
  readonly depth: string;
}

/** Fewer tell too little of a bed; the engine refuses them. */
export const FEWEST_SOUNDINGS = 5;

export function planOf(folded: Folded): PlanSaid | null {
  const value = valueAt(folded, "plan");
  return (value ?? null) as PlanSaid | null;
}

/** Return the water between two edges that differ; null while that is not known. */
export function waterOf(folded: Folded): Water | null {
  const [left, right] = [edgeOf(folded, "left")?.tape, edgeOf(folded, "right")?.tape];
  if (left === undefined || right === undefined || !isFigure(left) || !isFigure(right)) return null;
  if (same(left, right)) return null;
  return { left, right, start: textAt(folded, "start_bank") === "right" ? "right" : "left" };
}

/** Return positions in the order in which the crew meets them. */
export function inWalkingOrder(positions: readonly string[], water: Water): string[] {
  const [from, to] = water.start === "left" ? [water.left, water.right] : [water.right, water.left];
  const way = compare(from, to);
  return [...positions].sort((a, b) => -way * compare(a, b));
}

/** Return the position one graduation nearer to the far bank, or to the start bank. */
export function stepped(
  position: string,
  towards: "far bank" | "start bank",
  resolution: string,
  water: Water,
): string {
  const [from, to] = water.start === "left" ? [water.left, water.right] : [water.right, water.left];
  const grows = compare(from, to) < 0 === (towards === "far bank");
  return grows ? further(position, resolution, "0") : further(position, "0", resolution);
}

/** Return what is wrong with a position among the others, in one sentence; null where nothing is. */
export function positionFault(
  position: string,
  others: readonly string[],
  water: Water,
): string | null {
  if (others.some((other) => same(other, position))) return `There is a vertical at ${position} already.`;
  const [least, most] =
    compare(water.left, water.right) < 0 ? [water.left, water.right] : [water.right, water.left];
  if (compare(position, least) <= 0 || compare(position, most) >= 0) {
    return `It must lie in the water, between ${least} and ${most} (got ${position}).`;
  }
  return null;
}

/** Return the depths that were sounded for the plan, along the tape. */
export function soundingsOf(folded: Folded): readonly Sounding[] {
  return (valueAt(folded, "soundings") ?? []) as unknown as readonly Sounding[];
}

/** Return the soundings with one more, in the order in which the crew meets them. */
export function withSounding(
  soundings: readonly Sounding[],
  added: Sounding,
  water: Water,
): Sounding[] {
  const all = [...soundings, added];
  const order = inWalkingOrder(all.map(({ tape }) => tape), water);
  return order.map((tape) => all.find((one) => one.tape === tape)!);
}

/** Return what is wrong with where a depth was sounded, in one sentence; null where nothing is. */
export function soundingFault(
  tape: string,
  soundings: readonly Sounding[],
  water: Water,
): string | null {
  if (soundings.some((one) => same(one.tape, tape))) return `There is a depth at ${tape} already.`;
  const [least, most] =
    compare(water.left, water.right) < 0 ? [water.left, water.right] : [water.right, water.left];
  if (compare(tape, least) < 0 || compare(tape, most) > 0) {
    return `It must lie between the edges of water, ${least} and ${most} (got ${tape}).`;
  }
  return null;
}
