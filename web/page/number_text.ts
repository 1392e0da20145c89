/** Figures as people type them: kept to the character, refused where they are not clear. */

import { isFigure } from "./figures.ts";

export interface Wanted {
  /** Whether figures below 0 make sense here. */
  readonly signed?: boolean;
  /** Whether only whole numbers make sense here. */
  readonly whole?: boolean;
}

/** Return what is wrong with a figure as typed, in one sentence; null where nothing is. */
export function figureFault(typed: string, { signed = false, whole = false }: Wanted = {}): string | null {
  const text = typed.trim();
  const such = whole ? "25" : "4.5";
  if (text === "") return null;
  if (text.includes(",")) {
    return `“${text}” has a comma, which could stand for the point or part off thousands: write it with a point, such as ${such}.`;
  }
  if (/^[-+]?0\d/.test(text)) return `“${text}” begins with a needless 0: a point may be missing.`;
  if (!isFigure(text)) return `“${text}” is not written as a figure such as ${such}.`;
  if (whole && !/^\d+$/.test(text)) return `“${text}” is no whole number such as 25.`;
  if (!signed && text.startsWith("-")) return `“${text}” is below 0, which cannot be here.`;
  return null;
}

/** Return what was probably meant by a figure that is refused, for a button; null if unclear. */
export function figureMeant(typed: string): string | null {
  const meant = typed
    .trim()
    .replace(",", ".")
    .replace(/^[−–]/, "-")
    .replace(/^\+/, "")
    .replace(/^(-?)\./, "$10.")
    .replace(/\.$/, "");
  return isFigure(meant) && meant !== typed.trim() ? meant : null;
}

/** Return the text with its sign turned. */
export function turned(typed: string): string {
  const text = typed.trim();
  return text.startsWith("-") ? text.slice(1) : `-${text.replace(/^\+/, "")}`;
}
