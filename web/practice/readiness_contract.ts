/** What a leader asks for, and what the engine says of who has shown it: `readiness` in `bankside.bank`. */

export interface Requirements {
  readonly format: "bankside.readiness/1";
  readonly streams: number;
  readonly gauged: number;
  readonly within_percent: number;
  readonly kinds: number;
  readonly must: readonly string[];
  readonly no_stop_ignored: boolean;
  readonly no_figure_unread: boolean;
  readonly no_fix_now_open: boolean;
  readonly leader?: string;
  readonly programme?: string;
}

export interface NamedFact {
  readonly name: string;
  readonly value: string;
}

/** A try as a row; `off` in percent of the true discharge, or how it ended. */
export interface TryRow {
  readonly day: string;
  readonly stream: string;
  readonly seed: string;
  readonly off: string;
  readonly section: string;
  readonly cost: string;
}

export interface PersonView {
  readonly person: string;
  readonly ready: boolean;
  readonly still: readonly string[];
  /** How many ended rightly, and how many of these were gauged. */
  readonly within: number;
  readonly gauged: number;
  readonly counted: number;
  readonly cost_most: string;
  readonly tries: readonly unknown[];
  readonly paper: {
    readonly kind: string;
    readonly title: string;
    readonly sentences: readonly string[];
    readonly points: readonly string[];
  };
  readonly shown: readonly NamedFact[];
  readonly counting: readonly TryRow[];
  readonly others: readonly TryRow[];
}

export interface ReadinessView {
  readonly mark: string;
  readonly caution: string;
  readonly choice: string;
  readonly requirements: Requirements;
  readonly asked: readonly NamedFact[];
  readonly people: readonly PersonView[];
}
