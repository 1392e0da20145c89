/** What a site was on each visit, as dots along the days: discharge, width, depth, stage. */

import { ticks } from "../../page/parts/note_figure.ts";

export interface Moment {
  readonly id: string;
  /** Such as 2026-07-14, with the time of day where it is known. */
  readonly at: string;
  readonly value: number;
  /** The value as it is shown. */
  readonly text: string;
}

export interface TimeDot {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly text: string;
  /** Whether there is room for its figure. */
  readonly named: boolean;
}

export interface TimeLine {
  readonly dots: readonly TimeDot[];
  readonly path: string;
  readonly days: readonly { readonly x: number; readonly text: string }[];
  readonly values: readonly { readonly y: number; readonly text: string }[];
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
}

/** Room for a figure of so many pixels beside another. */
const APART = 46;
const DAY_MS = 86_400_000;

/** Return the picture of moments in time; the axis of values begins at 0 unless it may not. */
export function timeLine(
  moments: readonly Moment[],
  { width, height, fromZero }: { width: number; height: number; fromZero: boolean },
): TimeLine {
  const plot = { left: 56, right: width - 30, top: 22, bottom: height - 28 };
  const ordered = [...moments].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const times = ordered.map(({ at }) => Date.parse(at));
  const x = scale(spread(times, DAY_MS), [plot.left + 14, plot.right - 14]);
  const values = ordered.map(({ value }) => value);
  const y = scale(spread(fromZero ? [0, ...values] : values, 0), [plot.bottom, plot.top]);
  let last = -Infinity;
  const dots = ordered.map(({ id, value, text }, i) => {
    const at = round(x.to(times[i]!));
    const named = at - last >= APART;
    if (named) last = at;
    return { id, x: at, y: round(y.to(value)), text, named };
  });
  return {
    dots,
    path: dots.length > 1 ? `M${dots.map((dot) => `${dot.x},${dot.y}`).join(" L")}` : "",
    days: dayMarks(ordered, dots),
    values: ticks(...y.reach, 4).map((value) => ({ y: round(y.to(value)), text: String(value) })),
    plot,
  };
}

/** The day under each dot, as far as there is room. */
function dayMarks(moments: readonly Moment[], dots: readonly TimeDot[]): { x: number; text: string }[] {
  let last = -Infinity;
  return dots.flatMap(({ x }, i) => {
    if (x - last < 2 * APART) return [];
    last = x;
    return { x, text: moments[i]!.at.slice(0, 10) };
  });
}

interface Scale {
  readonly to: (value: number) => number;
  readonly reach: readonly [number, number];
}

/** From the least to the greatest; where all are alike, some room around them. */
function spread(values: readonly number[], least: number): [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (high > low) return [low, high + (high - low) * 0.08];
  const room = least || Math.abs(high) * 0.1 || 1;
  return [low - room, high + room];
}

function scale([low, high]: readonly [number, number], [from, to]: readonly [number, number]): Scale {
  return { to: (value) => from + ((value - low) / (high - low)) * (to - from), reach: [low, high] };
}

function round(pixels: number): number {
  return Math.round(pixels * 10) / 10;
}
