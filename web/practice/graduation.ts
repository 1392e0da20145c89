/** How a rod, a tape or a rod's sliding scale is marked: ten marks to the whole, the fifth a half. */

/** In what a scale is marked; a metre tape has a mark for every centimetre. */
export type ScaleUnit = "ft" | "cm" | "m";

export type MarkKind = "single" | "half" | "whole";

export interface Mark {
  /** In the scale's unit. */
  readonly value: number;
  readonly kind: MarkKind;
  /** Of whole marks alone; the others are counted from these. */
  readonly numeral: string | null;
}

interface Marking {
  /** One mark to the next, as a number of them to one unit, so that no mark's value is rounded. */
  readonly marksPerUnit: number;
  /** Decimals of the numeral of a whole mark. */
  readonly decimals: number;
}

// Feet in tenths with single, half-foot and whole-foot marks: common practice, no source. Metric
// rods and tapes by centimetres, likewise.
const MARKINGS: Readonly<Record<ScaleUnit, Marking>> = {
  ft: { marksPerUnit: 10, decimals: 0 },
  cm: { marksPerUnit: 1, decimals: 0 },
  m: { marksPerUnit: 100, decimals: 1 },
};

/** One mark to the next, in the scale's unit. */
export function graduation(unit: ScaleUnit): number {
  return 1 / MARKINGS[unit].marksPerUnit;
}

/** One whole mark to the next, in the scale's unit. */
export function wholeStep(unit: ScaleUnit): number {
  return 10 / MARKINGS[unit].marksPerUnit;
}

/** Return the marks from one value to another, both included, none below 0. */
export function marksBetween(unit: ScaleUnit, from: number, to: number): readonly Mark[] {
  const { marksPerUnit, decimals } = MARKINGS[unit];
  const first = Math.max(0, Math.ceil(from * marksPerUnit - 1e-9));
  const last = Math.floor(to * marksPerUnit + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const number = first + i;
    const value = number / marksPerUnit;
    const kind = number % 10 === 0 ? "whole" : number % 5 === 0 ? "half" : "single";
    return { value, kind, numeral: kind === "whole" ? value.toFixed(decimals) : null };
  });
}

/** A stretch of a scale as it lies on a picture: value `from` at place 0, `to` at `length`. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly length: number;
}

/** Return where a value lies on the picture, in its pixels. */
export function placeOf({ from, to, length }: Stretch, value: number): number {
  return ((value - from) / (to - from)) * length;
}

/** Return which value lies at a place: `placeOf` the other way. */
export function valueAt({ from, to, length }: Stretch, place: number): number {
  return from + (place / length) * (to - from);
}

/** How many graduations a close view shows on either side: at least one whole mark is among them. */
const ABOUT = 7;

/** Return the stretch that a close view of a value shows, its middle a little off the value. */
export function closeTo(unit: ScaleUnit, value: number, off: number, length: number): Stretch {
  const step = graduation(unit);
  // A picture whose middle was always the reading would give it away.
  const middle = value + 2 * step * off;
  return { from: middle - ABOUT * step, to: middle + ABOUT * step, length };
}
