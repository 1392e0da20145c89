/**
 * Figures as texts. What was called is kept to the digit, "1.0" as "1.0", so that sums are made by
 * decimal places and never show more digits than were called.
 */

const FIGURE = /^-?\d+(\.\d+)?$/;
const NEEDLESS_ZERO = /^-?0\d/;

/** Whether a text is a figure as people write one: 0.8, -0.12, 14, but neither 08 nor .8. */
export function isFigure(text: string): boolean {
  return FIGURE.test(text) && !NEEDLESS_ZERO.test(text);
}

/** Return how many digits stand behind the point. */
export function decimalsOf(text: string): number {
  const point = text.indexOf(".");
  return point < 0 ? 0 : text.length - point - 1;
}

/** Return whether two texts name one number: 14.5 and 14.50 do. */
export function same(a: string, b: string): boolean {
  return compare(a, b) === 0;
}

/** Return below 0 where a is the smaller number, above 0 where b is, 0 where they are equal. */
export function compare(a: string, b: string): number {
  const decimals = Math.max(decimalsOf(a), decimalsOf(b));
  const difference = scaled(a, decimals) - scaled(b, decimals);
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** Return a + (b - c) with as many decimals as the finest of them. */
export function further(a: string, b: string, c: string): string {
  const decimals = Math.max(decimalsOf(a), decimalsOf(b), decimalsOf(c));
  const sum = scaled(a, decimals) + scaled(b, decimals) - scaled(c, decimals);
  const digits = (sum < 0n ? -sum : sum).toString().padStart(decimals + 1, "0");
  const whole = digits.slice(0, digits.length - decimals);
  return `${sum < 0n ? "-" : ""}${whole}${decimals > 0 ? `.${digits.slice(-decimals)}` : ""}`;
}

function scaled(text: string, decimals: number): bigint {
  const [whole = "0", part = ""] = text.split(".");
  return BigInt(whole.replace("-", "") + part.padEnd(decimals, "0")) * (whole.startsWith("-") ? -1n : 1n);
}
