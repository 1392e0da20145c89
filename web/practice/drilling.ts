/** A question of the drills as the engine asks it, and what an answer came to. */

import type { Value } from "../journal/entry.ts";

export type Figure =
  | {
      readonly draw: "rod";
      readonly unit: "ft" | "m";
      readonly surface: number;
      readonly swing: number;
      readonly heaped: number;
    }
  | { readonly draw: "tape"; readonly unit: "m"; readonly edge: number; readonly backwards: boolean }
  | { readonly draw: "setting" | "words" | "edges" };

/** Why each is asked, by the keys of the reasons. */
export const WHY_ASKED: Readonly<Record<Figure["draw"], string>> = {
  rod: "reading a rod; depth",
  tape: "reading a rod; tape",
  setting: "rod setting; points",
  words: "units",
  edges: "spacing; verticals",
};

export interface SheetRow {
  readonly tape: number;
  readonly depth?: number;
  readonly edge?: string;
  readonly velocity?: readonly { readonly fraction: number; readonly value?: number; readonly seconds?: number }[];
}

interface Asked {
  readonly seed: number;
  readonly asks: string;
}
export interface ReadingQuestion extends Asked {
  readonly card: string;
  readonly figure: Figure;
  readonly unit: string;
}
export interface SheetQuestion extends Asked {
  readonly card: null;
  readonly record: {
    readonly units: { readonly length: string; readonly velocity: string };
    readonly channels: readonly { readonly verticals: readonly SheetRow[] }[];
  };
  readonly kinds: readonly string[];
}
export type Question = ReadingQuestion | SheetQuestion;

export interface Answered {
  readonly right: boolean;
  readonly words: string;
  readonly boxes: Value;
}

/** Under which name of a setting somebody's boxes are kept, in the store of practice. */
export const BOXES = "drills";
