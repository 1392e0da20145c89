/** What the office's server answers: docs/server.md. Figures are in SI; what is not known is null. */

import type { Entry } from "../../journal/entry.ts";
import type { Severity } from "../../page/view.ts";

export type Role = "crew" | "reviewer" | "lead";

export interface About {
  readonly version: string;
  /** null where the server keeps no archive. */
  readonly archive: string | null;
  readonly sign_in: boolean;
  /** null where nobody has signed in. */
  readonly you: { readonly name: string; readonly role: Role; readonly device: string | null } | null;
}

/** In the order in which a gauging gets there. */
export const STATES = ["under way", "to review", "sent back", "approved", "changed since approval"] as const;
export type State = (typeof STATES)[number];

/** A gauging among others. */
export interface Row {
  readonly id: string;
  readonly survey: string | null;
  readonly site: string | null;
  readonly stream: string | null;
  readonly place: string | null;
  readonly label: string | null;
  /** What the survey calls its site, whatever the gauging calls it; null where it has none. */
  readonly site_stream: string | null;
  readonly site_name: string | null;
  /** Such as 2026-07-14; "" where none is known. */
  readonly day: string;
  readonly started: string | null;
  readonly ended: string | null;
  readonly state: State;
  readonly crew: string | null;
  readonly meter: string | null;
  readonly calibration_due: string | null;
  readonly proven: boolean;
  /** Whether no readings are still to come, whatever a review says. */
  readonly over: boolean;
  readonly verticals: number;
  readonly discharge_m3s: number | null;
  readonly width_m: number | null;
  readonly area_m2: number | null;
  readonly mean_depth_m: number | null;
  readonly mean_velocity_ms: number | null;
  readonly stage: number | null;
  readonly stage_unit: string | null;
  readonly standard_percent: number | null;
  readonly expanded_percent: number | null;
  /** Whether something stands that no range around the discharge can speak of: none is told. */
  readonly in_doubt: boolean;
  readonly quality: string | null;
  readonly repeats: string | null;
  readonly open_stop: number;
  readonly open_fix: number;
  readonly open_explain: number;
  readonly conflicts: number;
  readonly photos: number;
  readonly entries: number;
  readonly trouble: string | null;
}

export interface SurveyCount {
  readonly id: string;
  readonly name: string;
  readonly starts: string | null;
  readonly ends: string | null;
  readonly sites: number;
  readonly gaugings: number;
  readonly by_state: Readonly<Partial<Record<State, number>>>;
}

export interface Surveys {
  readonly surveys: readonly SurveyCount[];
  readonly without_site: number;
}

export interface SurveySite {
  readonly id: string;
  readonly stream: string;
  readonly name: string;
  /** How many mouths lie between it and the end of the last stream. */
  readonly mouths_below: number;
  readonly planned: number | null;
  readonly visited: number;
}

export interface SurveyFinding {
  readonly severity: Severity;
  readonly check: string;
  readonly found: string;
  readonly advice: string;
  readonly gaugings: readonly string[];
  readonly sites: readonly string[];
}

export interface DuplicateGroup {
  readonly gaugings: readonly string[];
  readonly verdict: string;
  readonly spread_percent: number | null;
  readonly words: string;
  readonly advice: string;
}

export interface Balance {
  readonly name: string;
  readonly day: string | null;
  readonly verdict: string;
  readonly difference_m3s: number | null;
  readonly percent: number | null;
  readonly band_m3s: number | null;
  readonly words: string;
  readonly above: readonly string[];
  readonly taken_out: readonly string[];
  readonly below: string;
  readonly reasons: readonly string[];
  readonly remarks: readonly string[];
}

export interface MeterUse {
  readonly serial: string | null;
  readonly kind: string | null;
  readonly calibration_due: string | null;
  readonly gaugings: readonly string[];
  /** Of these, the ones made after the calibration was due. */
  readonly overdue: readonly string[];
  /** Of these, the ones without a check of the meter. */
  readonly unproven: readonly string[];
}

export interface SurveyRecord {
  readonly id: string;
  readonly name: string;
  readonly basin?: string;
  readonly organisation?: string;
  readonly starts?: string;
  readonly ends?: string;
  readonly remarks?: string;
}

export interface DeskSurvey {
  readonly survey: SurveyRecord;
  readonly sites: readonly SurveySite[];
  readonly order_remarks: readonly string[];
  readonly rows: readonly Row[];
  readonly findings: readonly SurveyFinding[];
  readonly duplicates: {
    readonly share: {
      readonly visits: number;
      readonly duplicated: number;
      readonly percent: number | null;
      readonly target_percent: number | null;
      readonly missing: number;
      readonly words: string;
    };
    readonly groups: readonly DuplicateGroup[];
  };
  readonly balances: readonly Balance[];
  readonly meters: readonly MeterUse[];
  readonly counts: {
    readonly by_state: Readonly<Partial<Record<State, number>>>;
    readonly open: Readonly<Partial<Record<Severity, number>>>;
    readonly sites: number;
    readonly visited: number;
  };
}

export interface SiteRecord {
  readonly id: string;
  readonly stream: string;
  readonly name: string;
  readonly also?: readonly string[];
  readonly label?: string;
  readonly position?: { readonly lon: number; readonly lat: number; readonly label?: string };
  readonly along_km?: number;
  readonly drainage_area_km2?: number;
  readonly visits_planned?: number;
  readonly remarks?: string;
}

export interface SectionVisit {
  readonly gauging: string;
  /** The bank from which the tape runs; null where it is not known. */
  readonly zero_bank: "left" | "right" | null;
  readonly channels: readonly {
    readonly name: string | null;
    /** Tape position and depth in metres. */
    readonly points: readonly (readonly [number, number])[];
  }[];
}

export interface DeskSite {
  readonly site: SiteRecord | null;
  readonly surveys: readonly { readonly id: string; readonly name: string }[];
  readonly visits: readonly (Row & { readonly record: { readonly remarks?: string } | null })[];
  readonly sections: readonly SectionVisit[];
  readonly photos: readonly {
    readonly gauging: string;
    readonly key: string;
    readonly sha256: string;
    readonly purpose: string;
    readonly type: string;
  }[];
  readonly comparisons: readonly {
    readonly gauging: string;
    readonly with: string;
    readonly odd: boolean;
    readonly words: readonly string[];
  }[];
}

/** A figure as it was filed. */
export interface Filing {
  readonly number: number;
  readonly discharge_m3s: number;
  readonly standard_percent: number | null;
  readonly expanded_percent: number | null;
  readonly method_version: string;
  readonly version: string;
  readonly state: string;
  readonly reason: string;
  readonly by: string | null;
  readonly at: string;
}

/** sheet, row, fate, reason. */
export type Fate = readonly [string | null, number, string, string];
export type FateCounts = Readonly<Record<"used" | "remark" | "refused", number>>;

export interface SheetSource {
  readonly name: string;
  readonly sha256: string;
  readonly taken_at: string;
  readonly taken_by: string | null;
  readonly label: string;
  readonly rows: FateCounts;
  readonly fates: readonly Fate[];
  readonly notes: readonly string[];
}

export interface DeskGauging {
  readonly row: Row;
  /** The digest of the entries that a review names. */
  readonly state: string;
  readonly entries: readonly Entry[];
  readonly filings: readonly Filing[];
  /** Entries that came with another content under a known id. */
  readonly conflicts: readonly {
    readonly entry: Entry;
    readonly received_from: string;
    readonly received_at: string;
  }[];
  readonly source: SheetSource | null;
}

export interface Verdict {
  readonly verdict: "approved" | "sent back";
  readonly reason?: string;
  readonly state: string;
  /** Counts only where nobody signs in. */
  readonly by?: string;
  /** The discharge that was shown, to be held to it. */
  readonly discharge_m3s?: number;
}

export interface Pushed {
  readonly added: readonly string[];
  readonly known: readonly string[];
  readonly differing: readonly string[];
  readonly refused: readonly { readonly id: string | null; readonly index: number; readonly said: string }[];
}

/** Something wrong, and as much of its place as is known. */
export interface Told {
  readonly message: string;
  readonly sheet?: string | null;
  readonly row?: number | null;
  readonly column?: string | null;
  readonly path?: string | null;
}

export type SheetAnswers = Readonly<Record<string, unknown>>;

export interface SheetQuestion {
  readonly said: string;
  readonly sheet: string | null;
  readonly row: number | null;
  readonly column: string | null;
  /** None where a person has to type one. */
  readonly options: readonly { readonly words: string; readonly answers: SheetAnswers }[];
}

export interface FiledTotal {
  readonly discharge_m3s: number;
  readonly rule: string | null;
  readonly difference_percent: number | null;
  readonly words: readonly string[];
}

export interface LookedGauging {
  readonly label: string;
  readonly stream: string | null;
  readonly place: string | null;
  readonly day: string | null;
  readonly verticals: number;
  readonly discharge_m3s: number | null;
  readonly reason: string | null;
  readonly faults: readonly Told[];
  readonly notes: readonly string[];
  readonly rows: FateCounts;
  readonly filed: FiledTotal | null;
}

/** How a sheet would be read; nothing is kept. */
export interface Looked {
  readonly file: string;
  readonly kind: "sheet" | "record" | "journal" | "survey";
  readonly known: {
    readonly columns: readonly string[];
    readonly units: Readonly<Record<string, readonly string[]>>;
    readonly choices: Readonly<Record<string, readonly string[]>>;
  };
  readonly columns: readonly {
    readonly sheet: string | null;
    readonly letter: string;
    readonly head: string;
    readonly means: string | null;
    readonly unit: string | null;
  }[];
  readonly gaugings: readonly LookedGauging[];
  readonly rows: FateCounts;
  readonly fates: readonly Fate[];
  readonly questions: readonly SheetQuestion[];
  readonly notes: readonly string[];
}

/** What became of a file. */
export interface Taken {
  readonly file: string;
  readonly kind: Looked["kind"];
  readonly seconds: number;
  readonly gaugings: readonly string[];
  readonly added: readonly string[];
  readonly entries: number;
  readonly photos: number;
  readonly survey: string | null;
  readonly rows: FateCounts;
  readonly filed: readonly {
    readonly gauging: string;
    readonly label: string;
    readonly discharge_m3s: number;
    readonly filed_m3s: number;
    readonly rule: string | null;
    readonly difference_percent: number | null;
    readonly words: readonly string[];
  }[];
  readonly faults: readonly Told[];
  readonly notes: readonly string[];
}

export interface Person {
  readonly name: string;
  readonly role: Role;
}

export interface Device {
  readonly id: string;
  readonly device: string | null;
  readonly name: string;
  readonly role: Role;
  readonly paired_at: string;
  readonly seen_at: string | null;
}

export interface Pairing {
  readonly code: string;
  readonly until: string;
  readonly url: string;
  /** The same address as a picture, in SVG. */
  readonly qr: string;
}
