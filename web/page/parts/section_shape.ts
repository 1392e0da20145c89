/** Where the parts of the section's picture stand, in pixels of a picture of a given size. */

import type { SectionSketch, SketchVertical } from "./section_sketch.ts";

export interface Room {
  readonly width: number;
  readonly height: number;
  /** Height of a line of text. */
  readonly line: number;
}

export interface ShapedVertical extends SketchVertical {
  readonly x: number;
  /** Where the bed is; null where no depth was read. */
  readonly bed: number | null;
  /** How far the bar of the velocity rises above the water; it hangs below for flow upstream. */
  readonly speed: number;
}

export interface ShapedPanel {
  readonly key: string;
  readonly path: string;
  readonly hatch: "none" | "above aim" | "above limit";
}

export interface Figure {
  readonly key: string;
  readonly x: number;
  readonly text: string;
}

export interface SectionShape {
  readonly surface: number;
  readonly deepest: number;
  readonly x: (tape: number) => number;
  readonly verticals: readonly ShapedVertical[];
  /** The water above the bed that was read; "" where fewer than two depths are. */
  readonly water: string;
  readonly bed: string;
  readonly panels: readonly ShapedPanel[];
  /** Shares as figures under the bed, as many as have room, the largest first. */
  readonly shares: readonly Figure[];
}

/** Room on both sides for a mark and half a figure. */
const MARGIN = 26;

export function shapeOf(sketch: SectionSketch, room: Room): SectionShape {
  const { verticals } = sketch;
  const tapes = [
    ...verticals.map(({ tape }) => tape),
    ...sketch.toCome.map(({ tape }) => tape),
    ...(sketch.present ? [sketch.present.tape] : []),
  ];
  const [first, last] = tapes.length > 0 ? [Math.min(...tapes), Math.max(...tapes)] : [0, 1];
  const span = last - first || 1;
  const x = (tape: number) => {
    const part = (tape - first) / span;
    return MARGIN + (sketch.mirrored ? 1 - part : part) * (room.width - 2 * MARGIN);
  };
  // Above the water a line for the present position and the bars; below the bed one for shares.
  const surface = room.line * 1.3 + (room.height - 3.4 * room.line) * 0.4;
  const deepest = room.height - 2.1 * room.line;
  const depth = Math.max(...verticals.map((vertical) => vertical.depth ?? 0), 0) || 1;
  const speed = Math.max(...verticals.map((vertical) => Math.abs(vertical.velocity ?? 0)), 0) || 1;
  const y = (of: number) => surface + (of / depth) * (deepest - surface);
  const shaped = verticals.map((vertical) => ({
    ...vertical,
    x: x(vertical.tape),
    bed: vertical.depth === null ? null : y(vertical.depth),
    speed: ((vertical.velocity ?? 0) / speed) * (surface - room.line * 1.4),
  }));
  const bottom = shaped.filter((vertical) => vertical.bed !== null) as Bottom[];
  const runs = runsOf(bottom, sketch.toCome.map(({ tape }) => tape)).filter((run) => run.length > 1);
  return {
    surface,
    deepest,
    x,
    verticals: shaped,
    water: runs.map((run) => closed(bottomPoints(run, surface), surface)).join(" "),
    bed: runs.map((run) => closed(bottomPoints(run, surface), deepest + room.line * 0.5)).join(" "),
    panels: panelsOf(sketch, shaped, bottom, x, surface),
    shares: sharesOf(sketch, shaped, room.line),
  };
}

/** Return the vertical whose line is nearest to a place of the picture. */
export function nearest(shape: SectionShape, x: number): ShapedVertical | null {
  let nearest: ShapedVertical | null = null;
  for (const vertical of shape.verticals) {
    if (nearest === null || Math.abs(vertical.x - x) < Math.abs(nearest.x - x)) nearest = vertical;
  }
  return nearest;
}

/** Return the stretches of the bed that were read: none is joined across a position to come. */
function runsOf(bottom: readonly Bottom[], unread: readonly number[]): Bottom[][] {
  const runs: Bottom[][] = [];
  for (const vertical of bottom) {
    const run = runs.at(-1);
    const before = run?.at(-1);
    const apart =
      before === undefined || unread.some((tape) => tape > before.tape && tape < vertical.tape);
    if (apart) runs.push([vertical]);
    else run!.push(vertical);
  }
  return runs;
}

type Bottom = ShapedVertical & { readonly bed: number };
type Point = readonly [number, number];

/** A steep edge is a wall from the surface down; everywhere else the bed is joined by lines. */
function bottomPoints(bottom: readonly Bottom[], surface: number): Point[] {
  return bottom.flatMap((vertical, i): Point[] => {
    const foot: Point = [vertical.x, vertical.bed];
    const wall: Point = [vertical.x, surface];
    if (vertical.edge === null || vertical.bed === surface) return [foot];
    return i === 0 ? [wall, foot] : [foot, wall];
  });
}

function closed(points: readonly Point[], level: number): string {
  const [first, last] = [points[0]!, points.at(-1)!];
  const path = points.map(([x, y]) => `${round(x)},${round(y)}`).join(" L");
  return `M${round(first[0])},${round(level)} L${path} L${round(last[0])},${round(level)} Z`;
}

function panelsOf(
  sketch: SectionSketch,
  verticals: readonly ShapedVertical[],
  bottom: readonly Bottom[],
  x: (tape: number) => number,
  surface: number,
): ShapedPanel[] {
  const limits = sketch.limits;
  if (limits === null) return [];
  return verticals.flatMap((vertical): ShapedPanel[] => {
    if (vertical.panel === null || vertical.share === null) return [];
    const [from, to] = [x(vertical.panel[0]), x(vertical.panel[1])].sort((a, b) => a - b) as [number, number];
    const inside = bottom.filter((one) => one.x > from && one.x < to).map((one): Point => [one.x, one.bed]);
    const points: Point[] = [
      [from, bedAt(bottom, from, surface)],
      ...inside.sort(([a], [b]) => a - b),
      [to, bedAt(bottom, to, surface)],
    ];
    const share = Math.abs(shown(vertical.share));
    const hatch = share > limits.limit ? "above limit" : share > limits.aim ? "above aim" : "none";
    return [{ key: vertical.key, path: closed(points, surface), hatch }];
  });
}

function bedAt(bottom: readonly Bottom[], x: number, surface: number): number {
  const line = [...bottom].sort((a, b) => a.x - b.x);
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    if (x >= a.x && x <= b.x && b.x > a.x) return a.bed + ((x - a.x) / (b.x - a.x)) * (b.bed - a.bed);
  }
  return surface;
}

function sharesOf(sketch: SectionSketch, verticals: readonly ShapedVertical[], line: number): Figure[] {
  if (!sketch.fresh) return [];
  const placed: Figure[] = [];
  const byShare = verticals
    .filter((vertical) => vertical.share !== null && shown(vertical.share) !== 0)
    .sort((a, b) => Math.abs(b.share!) - Math.abs(a.share!));
  for (const vertical of byShare) {
    if (placed.every((figure) => Math.abs(figure.x - vertical.x) > line * 2.1)) {
      placed.push({ key: vertical.key, x: vertical.x, text: shown(vertical.share!).toFixed(1) });
    }
  }
  return placed;
}

/** A share is judged as it is shown, to one decimal, as the checks do. */
function shown(share: number): number {
  return Math.round(share * 10) / 10;
}

function round(pixels: number): number {
  return Math.round(pixels * 10) / 10;
}
