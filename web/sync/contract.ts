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
  /** Which history of the archive this is. */
  readonly lineage: string;
  /** Whether a token is needed. */
  readonly signIn: boolean;
}

export interface Paired {
  readonly token: string;
  readonly you: You;
  /** Which history of the archive its answers are about. */
  readonly lineage: string;
  /** The arrival number to pull from. */
  readonly after: number;
}

/** What became of entries that were pushed: ids, and why each refused one was refused. */
export interface Pushed {
  readonly added: readonly string[];
  readonly known: readonly string[];
  readonly differing: readonly string[];
  readonly refused: readonly Refused[];
  readonly lineage: string;
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
  readonly lineage: string;
}

/** A position as records hold it, in degrees, WGS 84. */
export interface Position {
  readonly lon: number;
  readonly lat: number;
}

/** The last visit to a site that the office knows: its record in the wire form. */
export interface OfficeVisit {
  readonly id: string;
  readonly day: string;
  readonly record: { readonly [name: string]: unknown };
}

export interface FieldSite {
  readonly id: string;
  readonly stream: string;
  readonly name: string;
  readonly label?: string;
  /** Where the section is planned to be. */
  readonly position?: Position;
  /** Access, permits, hazards. */
  readonly remarks?: string;
}

export interface FieldSurvey {
  readonly id: string;
  readonly name: string;
  readonly sites: readonly FieldSite[];
}

/** What a device takes along. */
export interface Field {
  readonly surveys: readonly FieldSurvey[];
  /** By the id of the site. */
  readonly visits: { readonly [site: string]: OfficeVisit };
}
