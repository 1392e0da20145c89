/**
 * What the keys of the keypad come to. With fixed decimals digits fill from the right, "105" is
 * 1.05; the decimal point, once pressed, ends that for the figure under way.
 */

import { isFigure } from "../figures.ts";

export type Digit = "0" | "1" | "2" | "3" | "4" | "5" | "6" | "7" | "8" | "9";
export type Key = Digit | "." | "-" | "back";

export interface Typed {
  /** Digits, and the point where it was pressed, as pressed. */
  readonly keys: string;
  readonly negative: boolean;
}

/** Where digits fill from the right, how many stand behind the point unless the gauging says. */
export const USUAL_DECIMALS: { readonly [quantity: string]: number } = {
  tape: 1,
  depth: 2,
  velocity: 2,
};

export const NOTHING_TYPED: Typed = { keys: "", negative: false };

/** No figure of the trade is longer; more is a key that hangs. */
const MOST_KEYS = 8;

/** Return what was typed with one more key; `fixed` is the number of decimals without a point key. */
export function pressed(typed: Typed, key: Key, fixed: number | null): Typed {
  const { keys, negative } = typed;
  if (key === "-") return { keys, negative: !negative };
  if (key === "back") {
    return keys === "" ? NOTHING_TYPED : { keys: keys.slice(0, -1), negative };
  }
  if (keys.length >= MOST_KEYS) return typed;
  if (key === ".") {
    if (keys.includes(".") || fixed === 0) return typed;
    return { keys: keys === "" ? "0." : `${keys}.`, negative };
  }
  return { keys: keys + key, negative };
}

/** Return the text to show while typing, such as "1." on the way to "1.0"; "" for nothing. */
export function shown(typed: Typed, fixed: number | null): string {
  const sign = typed.negative ? "-" : "";
  const { keys } = typed;
  if (keys === "" || fixed === null || fixed === 0 || keys.includes(".")) return sign + keys;
  const digits = keys.padStart(fixed + 1, "0");
  const whole = digits.slice(0, -fixed).replace(/^0+(?=\d)/, "");
  return `${sign}${whole}.${digits.slice(-fixed)}`;
}

/** Return the figure, every digit as typed, or null while it is none. */
export function figureOf(typed: Typed, fixed: number | null): string | null {
  const text = shown(typed, fixed).replace(/\.$/, "");
  return isFigure(text) ? text : null;
}

/** Return why what was typed is no figure yet, in one sentence; null where it is, or is nothing. */
export function faultOf(typed: Typed, fixed: number | null): string | null {
  const text = shown(typed, fixed);
  if (text === "" || text === "-" || figureOf(typed, fixed) !== null) return null;
  return `${text} is no figure: type 0. before the digits, or delete the 0.`;
}

/** Return a figure as if it had just been typed, to be changed. */
export function typedAs(figure: string): Typed {
  return { keys: figure.replace("-", "").slice(0, MOST_KEYS), negative: figure.startsWith("-") };
}

/** Return the typed keys that a kept draft holds, or nothing typed where it holds none. */
export function typedFrom(draft: unknown): Typed {
  const { keys, negative } = (draft ?? {}) as Partial<Typed>;
  if (typeof keys !== "string" || !/^\d*\.?\d*$/.test(keys)) return NOTHING_TYPED;
  return { keys: keys.slice(0, MOST_KEYS), negative: negative === true };
}
