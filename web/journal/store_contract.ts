/** What the page asks of the store on this device; `store.ts` fulfils it with IndexedDB. */

import type { Entry } from "./entry.ts";

export type Whereabouts = "here only" | "exported" | "on the server";

export interface GaugingSummary {
  readonly id: string;
  readonly stream: string;
  readonly site: string;
  readonly started: string | undefined;
  readonly entries: number;
  readonly closed: boolean;
  /** "exported" only while no entry has come since. */
  readonly whereabouts: Whereabouts;
}

export interface StoredFile {
  readonly sha256: string;
  readonly type: string;
  readonly bytes: ArrayBuffer;
}

export type TroubleKind = "full" | "lost" | "blocked" | "newer" | "unknown";

/** Something that the store could not do, told in one sentence for the person at the bank. */
export class StoreTrouble extends Error {
  override readonly name = "StoreTrouble";
  readonly kind: TroubleKind;
  constructor(kind: TroubleKind, message: string) {
    super(message);
    this.kind = kind;
  }
}

export interface Store {
  /** The name of this device in the journal; made once and kept. */
  readonly device: string;
  /** Resolves when the entries are durable on the device, and not before. StoreTrouble if not. */
  append(entries: readonly Entry[]): Promise<void>;
  entries(gauging: string): Promise<Entry[]>;
  gaugings(): Promise<GaugingSummary[]>;
  putFile(gauging: string, file: StoredFile): Promise<void>;
  file(sha256: string): Promise<StoredFile | undefined>;
  /** Remember that a file with these entries left the device; never called before it did. */
  markExported(gauging: string, entryIds: readonly string[]): Promise<void>;
  setting(name: string): Promise<unknown>;
  setSetting(name: string, value: unknown): Promise<void>;
  /** Called when entries come from another tab or after an import. */
  onChange(listener: (gauging: string) => void): () => void;
  close(): void;
}
