/**
 * Sections of several visits laid over one another at one scale, looking downstream with the left
 * bank on the left. What cannot be laid over the others is left out and said.
 */

import { ticks } from "../../page/parts/note_figure.ts";
import type { SectionVisit } from "../asking/answers.ts";
import { inLength, type System } from "../shown.ts";

/** Along the tape as it hung, or from the left edge of water as it was. */
export type Across = "tape" | "edge";
/** Below the water, or by the height on the staff gauge. */
export type Down = "water" | "gauge";

export interface Overlaid {
  readonly gauging: string;
  /** Such as 2026-07-14. */
  readonly name: string;
  readonly zero_bank: SectionVisit["zero_bank"];
  readonly channels: SectionVisit["channels"];
  /** Mean stage in metres, null where none was read. */
  readonly stage_m: number | null;
}

export interface OverlayLine {
  readonly gauging: string;
  readonly name: string;
  /** Which of the styles it is drawn in. */
  readonly style: number;
  readonly beds: readonly string[];
  readonly water: readonly (readonly [x1: number, x2: number, y: number])[];
  readonly dots: readonly (readonly [number, number])[];
}

export interface Tick {
  readonly at: number;
  readonly text: string;
}

export interface Overlay {
  readonly width: number;
  readonly height: number;
  readonly lines: readonly OverlayLine[];
  readonly across: readonly Tick[];
  readonly down: readonly Tick[];
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
  /** The names of visits that are not drawn. */
  readonly left_out: readonly string[];
}

/** Lines that can be told apart without colours. */
export const STYLES = ["", "9 5", "2 4", "14 4 2 4", "5 3 5 8", "1 7"] as const;

const PLOT = { left: 56, right: 16, top: 12, bottom: 40 };

interface Placed {
  readonly visit: Overlaid;
  readonly channels: readonly (readonly (readonly [number, number])[])[];
  readonly surface: number;
}

/** Return where everything stands in a picture so wide; visits are drawn in the order given. */
export function overlayOf(
  visits: readonly Overlaid[],
  { across, down, system, width, height }: { across: Across; down: Down; system: System; width: number; height: number },
): Overlay {
  const sign = across === "tape" && tapesFrom(visits) === "right" ? -1 : 1;
  const placed = visits.flatMap((visit) => place(visit, across, down) ?? []);
  const points = placed.flatMap(({ channels, surface }) => [...channels.flat(), [channels[0]![0]![0], surface] as const]);
  const x = scale(reach(points.map(([at]) => at)), [PLOT.left, width - PLOT.right]);
  const y = scale(reach(points.map(([, at]) => at)), [PLOT.top, height - PLOT.bottom]);
  return {
    width,
    height,
    plot: { left: PLOT.left, right: width - PLOT.right, top: PLOT.top, bottom: height - PLOT.bottom },
    lines: placed.map(({ visit, channels, surface }) => ({
      gauging: visit.gauging,
      name: visit.name,
      style: visits.indexOf(visit) % STYLES.length,
      beds: channels.map((line) => `M${line.map(([a, b]) => `${round(x.to(a))},${round(y.to(b))}`).join(" L")}`),
      water: channels.map((line) => [round(x.to(line[0]![0])), round(x.to(line.at(-1)![0])), round(y.to(surface))] as const),
      dots: channels.flat().map(([a, b]) => [round(x.to(a)), round(y.to(b))] as const),
    })),
    across: ticksOf(x, system, 8, sign),
    down: ticksOf(y, system, 5, down === "gauge" ? -1 : 1),
    left_out: visits.filter((visit) => !placed.some((one) => one.visit === visit)).map(({ name }) => name),
  };
}

/** Return the bank from which most tapes ran; those of the other bank cannot lie along the same tape. */
export function tapesFrom(visits: readonly Overlaid[]): "left" | "right" {
  const right = visits.filter(({ zero_bank }) => zero_bank === "right").length;
  const left = visits.filter(({ zero_bank }) => zero_bank === "left").length;
  return right > left ? "right" : "left";
}

/** Return the names of the visits whose tape ran from the other bank than that of most. */
export function mirrored(visits: readonly Overlaid[]): string[] {
  const usual = tapesFrom(visits);
  return visits.filter(({ zero_bank }) => zero_bank !== null && zero_bank !== usual).map(({ name }) => name);
}

/** From the left bank on, the bed's height growing downwards; null where it cannot be laid over. */
function place(visit: Overlaid, across: Across, down: Down): Placed | null {
  const drawn = visit.channels.map(({ points }) => points).filter((points) => points.length > 1);
  if (drawn.length === 0 || (down === "gauge" && visit.stage_m === null)) return null;
  const turn = visit.zero_bank === "right" ? -1 : 1;
  const turned = drawn.map((points) => points.map(([tape, depth]) => [turn * tape, depth] as const).sort(([a], [b]) => a - b));
  turned.sort((a, b) => a[0]![0] - b[0]![0]);
  const from = across === "edge" ? turned[0]![0]![0] : 0;
  const surface = down === "gauge" ? -visit.stage_m! : 0;
  return {
    visit,
    surface,
    channels: turned.map((points) => points.map(([at, depth]) => [at - from, surface + depth] as const)),
  };
}

interface Scale {
  readonly to: (value: number) => number;
  readonly reach: readonly [number, number];
}

function scale([low, high]: readonly [number, number], [from, to]: readonly [number, number]): Scale {
  return { to: (value) => from + ((value - low) / (high - low)) * (to - from), reach: [low, high] };
}

/** From the least to the greatest, with a little room. */
function reach(values: readonly number[]): [number, number] {
  if (values.length === 0) return [0, 1];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low || 1) * 0.03;
  return [low - room, high + room];
}

function ticksOf({ to, reach: [low, high] }: Scale, system: System, about: number, sign: number): Tick[] {
  const [from, until] = [inLength(low, system), inLength(high, system)];
  const metre = inLength(1, system);
  return ticks(from, until, about).map((value) => ({
    at: round(to(value / metre)),
    text: String(value === 0 ? 0 : sign * value),
  }));
}

function round(pixels: number): number {
  return Math.round(pixels * 10) / 10;
}
