/** The measurement note as the engine composes it: all its words, and what its picture shows. */

export type Kind = "" | "open" | "strong" | "struck" | "fine";

export interface Cell {
  /** Lines are parted by newlines. */
  readonly text: string;
  readonly kind: Kind;
  /** Stands before the text, in bold. */
  readonly lead: string;
}

export interface Column {
  readonly head: string;
  readonly unit: string;
  readonly align: "left" | "right";
  readonly weight: number;
}

export interface Table {
  readonly name: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  readonly totals: readonly (readonly Cell[])[];
  /** Whether it is never split over pages. */
  readonly whole: boolean;
}

export interface Fact {
  readonly name: string;
  readonly value: string;
  /** Whether nothing was recorded. */
  readonly open: boolean;
}

export interface FactGroup {
  readonly title: string;
  readonly facts: readonly Fact[];
}

export interface Headline {
  readonly name: string;
  readonly discharge: string;
  readonly also: string;
  readonly uncertainty: string;
  readonly uncertainty_basis: string;
  readonly quality: Fact;
  readonly facts: readonly Fact[];
  readonly warnings: readonly string[];
}

export interface Picture {
  readonly key: string;
  readonly description: string;
  readonly caption: string;
}

export interface Part {
  readonly title: string;
  readonly pictures: readonly Picture[];
  readonly sentences: readonly string[];
  readonly tables: readonly Table[];
  readonly below: readonly string[];
  readonly points: readonly string[];
  readonly fine: boolean;
  readonly narrow: boolean;
}

export interface NoteContent {
  readonly title: string;
  readonly kind: string;
  readonly stream: string;
  readonly site: string;
  readonly date: Fact;
  readonly headline: Headline;
  readonly groups: readonly FactGroup[];
  readonly map: Picture | null;
  readonly parts: readonly Part[];
  readonly signatures_title: string;
  readonly signatures: readonly string[];
  readonly signature_fields: readonly string[];
  readonly running: string;
  readonly day: string | null;
}

export interface DrawnVertical {
  readonly tape: number;
  readonly depth: number;
  readonly velocity: number;
  readonly measured: boolean;
  readonly fractions: readonly number[];
}

export interface DrawnPanel {
  readonly start: number;
  readonly end: number;
  readonly share: number | null;
  readonly mark: "" | "*" | "**";
}

export interface DrawnChannel {
  readonly title: string;
  /** At the lowest and at the highest tape position. */
  readonly banks: readonly [string | null, string | null];
  readonly mirrored: boolean;
  readonly unmeasured: readonly [boolean, boolean];
  readonly verticals: readonly DrawnVertical[];
  readonly panels: readonly DrawnPanel[];
}

export interface DrawnRow {
  readonly key: string;
  readonly tape: string;
  readonly channels: readonly DrawnChannel[];
}

export interface SectionDrawing {
  readonly units: { readonly length: string; readonly depth: string; readonly velocity: string };
  readonly limits: { readonly aim: number; readonly limit: number };
  readonly rows: readonly DrawnRow[];
}

export interface NoteReply {
  readonly content: NoteContent;
  readonly drawing: SectionDrawing;
}
