/** What the page asks of the store on this device; `store.ts` fulfils it with IndexedDB. */

import type { Entry, Value } from "./entry.ts";
import type { Review } from "./review.ts";

export type Whereabouts = "here only" | "exported" | "on the server";

export interface GaugingSummary {
  readonly id: string;
  readonly stream: string;
  readonly site: string;
  /** When the first entry was written, and the start of the gauging where it was said. */
  readonly begun: string;
  readonly started: string | undefined;
  readonly entries: number;
  readonly closed: boolean;
  /**
   * "exported" and "on the server" only while no entry has come since; "on the server" only with
   * every photo.
   */
  readonly whereabouts: Whereabouts;
  /** What is not known to be on the server. */
  readonly waiting: Waiting;
  /** What the office held of it, null where it said nothing that stands. */
  readonly review: Review | null;
}

export interface GaugingIds {
  readonly held: readonly string[];
  /** All is here that the server had of them. */
  readonly whole: readonly string[];
  /** Something of them is not known to be on the server. */
  readonly waiting: readonly string[];
}

/** How much of a gauging the server has not said to hold. */
export interface Waiting {
  readonly entries: number;
  readonly photos: number;
}

/** What became of entries that came from the server. */
export interface TakenIn {
  /** How many were not here yet. */
  readonly added: number;
  /** The ids under which this device has another content; that stands. */
  readonly differing: readonly string[];
}

export interface StoredFile {
  readonly sha256: string;
  readonly type: string;
  readonly bytes: ArrayBuffer;
}

/**
 * full: no room on the device. lost: the browser closed the storage and does not open it again.
 * blocked: another tab runs an older version. newer: another version wrote what is here.
 * differs: the same id or checksum with other content. kept: it may not be removed from here.
 * misplaced: practice among real gaugings, or one of these among practice.
 */
export type TroubleKind =
  | "full" | "lost" | "blocked" | "newer" | "differs" | "kept" | "misplaced" | "unknown";

/** Something that the store could not do, told in one sentence for the person at the bank. */
export class StoreTrouble extends Error {
  override readonly name = "StoreTrouble";
  readonly kind: TroubleKind;
  constructor(kind: TroubleKind, message: string) {
    super(message);
    this.kind = kind;
  }
}

/** What came back from the second copy, where the browser had thrown the database away. */
export interface Restored {
  readonly gaugings: number;
  /** Parts of the copy that could not be read, and photos for which there was no room. */
  readonly lacking: number;
}

/** The setting that keeps what came back until somebody has seen it; null from then on. */
export const RESTORED = "restored";

/** Every method rejects with StoreTrouble, and with nothing else, where it cannot do its work. */
export interface Store {
  /** The name of this device in the journal; made once and kept. */
  readonly device: string;
  /** Whether it keeps practice, and nothing else; any other keeps real gaugings, and nothing else. */
  readonly practice: boolean;
  /**
   * Not null where the database was found gone, until RESTORED is set to null; what else it held, such
   * as settings, is lost.
   */
  readonly restored: Restored | null;
  /**
   * Keep entries, all or none. Resolves when they are durable on the device, and not before, with
   * the number that were not here yet. An entry that is here already with equal content is fine.
   */
  append(entries: readonly Entry[]): Promise<number>;
  /**
   * Keep entries that came from the server, and in the same transaction that they are there, but
   * for those that name a photo. One that differs from what is here is left out and named.
   */
  takeIn(entries: readonly Entry[]): Promise<TakenIn>;
  /** Take in the whole of a gauging, as far as the server has it, and remember that alike. */
  takeInWhole(gauging: string, entries: readonly Entry[]): Promise<TakenIn>;
  /** The entries of a gauging in order. */
  entries(gauging: string): Promise<Entry[]>;
  /** The ids of all gaugings, of those taken in whole, and of those that wait for the server. */
  gaugingIds(): Promise<GaugingIds>;
  /** The entries of a gauging that are not known to be on the server, in order. */
  unsent(gauging: string): Promise<Entry[]>;
  /** All that have entries, the last begun first. */
  gaugings(): Promise<GaugingSummary[]>;
  /** Keep a file; durable as entries are. Say the entry that names it only after this. */
  putFile(file: StoredFile): Promise<void>;
  file(sha256: string): Promise<StoredFile | undefined>;
  /** Remember that these entries have left the device; never called before they did. */
  mark(
    gauging: string,
    whereabouts: Exclude<Whereabouts, "here only">,
    entryIds: readonly string[],
  ): Promise<void>;
  /** Forget what is on the server and what was taken in: for another server, or one that lost some. */
  forgetServer(): Promise<void>;
  /**
   * Remove a gauging, its draft and the files that no other gauging names; ask the person first.
   * Refused with kind "kept" while it is here only, and while a tab has it open.
   */
  removeGauging(gauging: string): Promise<void>;
  /** What was typed and not yet said, undefined if nothing. */
  draft(gauging: string): Promise<Value | undefined>;
  /** Keep what is being typed, undefined for nothing. May be lost with the power: never "saved". */
  setDraft(gauging: string, draft: Value | undefined): Promise<void>;
  setting(name: string): Promise<unknown>;
  setSetting(name: string, value: unknown): Promise<void>;
  /** Called when another tab has added entries to a gauging, marked some, or removed it. */
  onChange(listener: (gauging: string) => void): () => void;
  /** Called when this tab has. */
  onWrite(listener: (gauging: string) => void): () => void;
  /** Called when the browser took the storage away, so that what is in memory may be all there is. */
  onLost(listener: () => void): () => void;
  close(): void;
}
