/** What the server of an office answers to a device: docs/server.md, the part "Sync". */

import type { Entry } from "../journal/entry.ts";

export interface You {
  readonly name: string;
  readonly role: string;
}

export interface About {
  readonly version: string;
  /** What the archive is called. */
  readonly archive: string;
  /** Whether a token is needed. */
  readonly signIn: boolean;
  readonly you: You | null;
}

export interface Paired {
  readonly token: string;
  readonly you: You;
  /** The arrival number to pull from. */
  readonly after: number;
}

/** What became of entries that were pushed: ids, and why each refused one was refused. */
export interface Pushed {
  readonly added: readonly string[];
  readonly known: readonly string[];
  readonly differing: readonly string[];
  readonly refused: readonly Refused[];
}

export interface Refused {
  /** Absent where what was sent had none that could be read. */
  readonly id: string | undefined;
  readonly said: string;
}

export interface Pulled {
  readonly entries: readonly Entry[];
  /** The arrival number to go on from. */
  readonly after: number;
  readonly more: boolean;
}

/** A position as records hold it, in degrees, WGS 84. */
export interface Position {
  readonly lon: number;
  readonly lat: number;
}

/** A visit that the office knows: its record in the wire form. */
export interface OfficeVisit {
  readonly id: string;
  readonly day: string | null;
  readonly discharge_m3s: number | null;
  readonly record: { readonly [name: string]: unknown };
}

export interface FieldSite {
  readonly id: string;
  readonly stream: string;
  readonly name: string;
  readonly label?: string;
  readonly position?: Position;
  readonly remarks?: string;
  readonly last_visit: OfficeVisit | null;
}

export interface FieldSurvey {
  readonly id: string;
  readonly name: string;
  readonly rule_set?: string;
  readonly sites: readonly { readonly id: string }[];
}

/** What a device takes along. */
export interface Field {
  readonly surveys: readonly FieldSurvey[];
  readonly sites: readonly FieldSite[];
}
