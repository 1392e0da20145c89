/** What a practice session is, and what the engine shows of it: `practise` in `bankside.bank`. */

export type Doing = "choose" | "clear" | "stretch" | "stage" | "edge" | "sound" | "hold" | "stay out";
export type Side = "left" | "right";

/** One act; lengths in metres. What it does not say is done as it should be. */
export interface Act {
  readonly do: Doing;
  readonly section?: string;
  readonly side?: Side;
  readonly tape?: number;
  readonly fraction?: number;
  readonly setting?: number;
  readonly seconds?: number;
  readonly facing?: number;
  readonly stance?: "aside" | "close upstream";
  readonly unit?: "m/s" | "ft/s";
  readonly restarted?: boolean;
  readonly skew?: number;
}

export interface SessionSaid {
  readonly stream: string;
  readonly seed: number;
  readonly acts: readonly Act[];
}

export type Bank = "sloping" | "steep" | "undercut";

/** From and to across a section: 0 at the left bank, 1 at the right. */
export type Stretch = readonly [number, number];

/** A place across a section as it looks from the bank. */
export interface FacePlace {
  /** From 0 at the left bank to 1 at the right. */
  readonly at: number;
  readonly dry: boolean;
  /** How dark the water looks: from 0, where the bed shines through, to `darkest` of the section. */
  readonly dark: number;
  /** How uneven the surface is, in m. */
  readonly ripple: number;
  /** m/s at the surface; below 0 where it runs back. */
  readonly speed: number;
  /** Degrees off square. */
  readonly angle: number;
}

export interface SectionView {
  readonly name: string;
  readonly along_m: number;
  readonly width_m: number;
  readonly left_bank: Bank;
  readonly right_bank: Bank;
  readonly face: readonly FacePlace[];
  readonly darkest: number;
  /** What stands out of the water, and what lies close under its surface. */
  readonly stones: readonly Stretch[];
  readonly under: readonly Stretch[];
  /** Water that stands or runs back, and that of it which runs back. */
  readonly dead: readonly Stretch[];
  readonly back: readonly Stretch[];
  /** How far below the section wood lies across the water; null where none does. */
  readonly wood_m: number | null;
}

/** What shows of a reach beside its sections, from the bank. */
export interface SignsView {
  readonly brown: boolean;
  readonly drift: boolean;
  /** How long somebody walked along the reach, and what the staff gauge showed before and after. */
  readonly walked_minutes: number;
  readonly gauge_before_m: number;
  readonly gauge_now_m: number;
}

export type Shown =
  | { readonly kind: "stage"; readonly value_m: number }
  | {
      readonly kind: "edge";
      readonly side: Side;
      readonly tape_m: number;
      readonly depth_m: number;
      readonly bank: string;
    }
  | {
      readonly kind: "depth";
      readonly tape_m: number;
      readonly depth_m: number;
      /** How far the surface swings up and down at the rod. */
      readonly swing_m: number;
      /** Degrees of the flow to the tape as it hangs. */
      readonly angle: number;
    }
  | {
      readonly kind: "point";
      readonly tape_m: number;
      /** What the meter shows after each second, in the unit it is set to. */
      readonly display: readonly number[];
      /** The last figure; null where too little water covers the meter. */
      readonly called: number | null;
    };

/** A session as the engine shows it; `shown` has one place for every act, null where nothing shows. */
export interface SessionView {
  readonly about: string;
  readonly signs: SignsView;
  readonly sections: readonly SectionView[];
  readonly chosen: string | null;
  readonly cleared: boolean;
  /** Degrees that the tape hangs off square; null before it hangs. */
  readonly skew: number | null;
  readonly seconds: number;
  readonly shown: readonly (Shown | null)[];
}

export interface StreamView {
  readonly name: string;
  readonly about: string;
}

/** A finding that was shown while there was time to do something about it. */
export interface Told {
  readonly check: string;
  readonly found: string;
  readonly severity: string;
}

/** What is said of going in or staying out, where no discharge is told. */
export interface JudgedView {
  readonly judged: {
    readonly outcome: "stayed out" | "came out" | "went in";
    readonly dangerous: boolean;
    readonly verdict: string;
    readonly because: readonly string[];
    readonly instead: readonly { readonly why: string; readonly what: string; readonly source: string }[];
  };
}

/** What is to be learnt from a practice gauging; tape, depths and velocities as called. */
export interface DebriefView {
  readonly judged: null;
  readonly true: number;
  readonly measured: number;
  readonly unit: string;
  /** The whole error, and each part of it, in percent of the true discharge. */
  readonly percent: number;
  readonly section: string;
  readonly best: string;
  readonly minutes: number;
  readonly parts: readonly {
    readonly source: string;
    readonly name: string;
    readonly what: string;
    readonly percent: number;
  }[];
  readonly better: readonly { readonly why: string; readonly what: string; readonly source: string }[];
  readonly findings: readonly (Told & {
    readonly advice: string;
    readonly fate: "put right" | "came out" | "answered" | "left open";
  })[];
  readonly one_more: { readonly tape: number; readonly percent: number } | null;
  readonly section_true: readonly { readonly tape: number; readonly depth: number; readonly velocity: number }[];
}
