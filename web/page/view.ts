/** What the engine says about a gauging: the replies of `bankside.bank`. */

import type { Value } from "../journal/entry.ts";

export type Severity = "stop" | "fix now" | "explain" | "note";

export interface Fault {
  readonly message: string;
  readonly path?: string;
  readonly entries?: readonly string[];
}

export interface ResultView {
  readonly discharge_m3s: number;
  readonly method_version: string;
  readonly discharge: string;
  readonly discharge_unit: string;
  readonly also: string;
  readonly area: string;
  readonly width: string;
  readonly mean_depth: string | null;
  readonly mean_velocity: string | null;
  readonly notes: readonly string[];
  /** Why the figure is not the last word, one sentence each. */
  readonly warnings: readonly string[];
  /** How far it may be off as the note says it, and how sure that is. */
  readonly uncertainty: string;
  readonly uncertainty_basis: string;
}

/** A vertical along the tape, in called units; start and end are those of its panel. */
export interface VerticalView {
  readonly key: string;
  readonly channel: string;
  readonly tape: number;
  readonly depth: number | null;
  readonly velocity: number | null;
  readonly share: number | null;
  readonly start: number | null;
  readonly end: number | null;
  readonly measured: boolean;
  readonly edge: "left" | "right" | null;
  readonly fractions: readonly number[];
  readonly readings: number;
}

export interface FindingView {
  readonly key: string;
  readonly check: string;
  readonly severity: Severity;
  readonly found: string;
  readonly advice: string;
  readonly channel: string | null;
  readonly verticals: readonly string[];
  readonly tapes: readonly number[];
  /** When its check raises it, and who says so. */
  readonly rule: string;
  readonly source: string;
  readonly rules: readonly string[];
  /** The figure that was probably meant, as the entry that would say so. */
  readonly instead: {
    readonly what: string;
    readonly value: string;
    readonly was: string;
    /** The whole value of the entry: of a velocity, with its point and seconds. */
    readonly write: Value;
  } | null;
  readonly places: readonly { readonly channel: string; readonly tape: string }[];
  readonly answer: { readonly reason: string; readonly by: string | null } | null;
  readonly open: boolean;
  readonly comes_out: boolean;
  /** Whether it is about how deep or strong the water is: then the leader decides who stands there. */
  readonly leader_decides: boolean;
  readonly hangs_on: string | null;
}

export interface RodPoint {
  readonly fraction: number | null;
  readonly setting: string;
  readonly words: string;
}

export interface Compared {
  readonly name: string;
  readonly then: string;
  readonly now: string;
  readonly words: string;
  readonly odd: boolean;
}

export interface NextAct {
  readonly kind: "vertical" | "second point" | "longer exposure" | "no more" | "enough" | "elsewhere";
  readonly channel: string | null;
  readonly tape: string | null;
  /** The vertical that is read again. */
  readonly vertical: string | null;
  readonly seconds: number;
  /** Half the interval of 95 % that it is expected to leave. */
  readonly percent: string;
  readonly words: string;
}

export interface View {
  readonly record: object | null;
  readonly faults: readonly Fault[];
  readonly state: "open" | "closed";
  /** Whether all readings are there, as far as the journal tells. */
  readonly finished: boolean;
  /** On the rule set, the journal, what was left out, the last visit: a sentence each. */
  readonly remarks: readonly string[];
  readonly result: ResultView | null;
  readonly no_result: string | null;
  readonly verticals: readonly VerticalView[];
  readonly findings: readonly FindingView[];
  readonly rod: { readonly [vertical: string]: readonly RodPoint[] };
  readonly exposure_s: number;
  readonly share_limits: { readonly aim: number; readonly limit: number };
  readonly largest: readonly {
    readonly vertical: string;
    readonly tape: string;
    readonly share: number;
  }[];
  /** What to do next, the best first; nothing before all is read, or while a finding calls out. */
  readonly next: readonly NextAct[];
  /** Half the interval of 95 % that the leader wants, in percent. */
  readonly target: number | null;
  readonly uncertainty: readonly {
    readonly key: string;
    readonly method: string;
    readonly percent: string;
    readonly words: string;
  }[];
  readonly quality_suggested: string | null;
  readonly earlier: readonly Compared[];
  readonly seconds_left: number | null;
}

export interface PlanReply {
  readonly positions: readonly string[];
  readonly panel_widths: readonly string[];
  readonly shares: readonly (number | null)[];
  readonly expected_seconds: number;
  readonly remarks: readonly string[];
}

/** For the gate before anybody steps in; it says what was, not what is. */
export interface WadeReply {
  /** The largest depth times velocity of the last visit, with its unit. */
  readonly product: string | null;
  readonly verdict: "below the limits" | "the leader decides" | "nobody wades" | null;
  readonly words: string;
  /** That of the table: the velocities are in it, a second. */
  readonly unit: "ft" | "m";
  readonly limits_words: string;
  readonly remarks: readonly string[];
  readonly limits: readonly {
    readonly depth: string;
    readonly leader: string;
    readonly nobody: string;
  }[];
  readonly cautions: readonly string[];
}

export type Refusal = { readonly ok: false; readonly faults: readonly Fault[] };
export type Reply<T> = ({ readonly ok: true } & T) | Refusal;
