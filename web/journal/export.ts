/** A gauging as one file: all its entries, its photos, and what the engine made of them. */

import type { Entry } from "./entry.ts";
import { toBase64 } from "./digest.ts";
import { fold, textAt, united, type Folded } from "./fold.ts";
import { StoreTrouble, type StoredFile } from "./store_contract.ts";
import { filesNamed } from "./summary.ts";

export const FORMAT = "bankside.journal/1";
const MEDIA_TYPE = "application/json";

/** What the engine made of exactly the entries of the file, where it was up. */
export interface Computed {
  readonly record: object | null;
  readonly shown: {
    readonly discharge_m3s: number;
    readonly method_version: string;
    readonly version: string;
  } | null;
}

export interface JournalFile {
  readonly name: string;
  readonly blob: Blob;
  readonly gauging: string;
  /** What to mark as exported once the file has left. */
  readonly entryIds: readonly string[];
  /** How many files the entries name that this device does not have: this file is whole without. */
  readonly missing: number;
  /** How many files may be here and could not be read: while there are any, this file is not whole. */
  readonly unreadable: number;
}

/**
 * Return the file of a gauging. The entries are given, since some may be in memory alone: the file
 * is made even when nothing can be read from the device any more.
 */
export async function journalFile(
  entries: readonly Entry[],
  fileOf: (sha256: string) => Promise<StoredFile | undefined>,
  computed?: Computed,
): Promise<JournalFile> {
  const ordered = united(entries);
  const gauging = ordered[0]!.gauging;
  const files: StoredFile[] = [];
  let [missing, unreadable] = [0, 0];
  for (const sha256 of [...filesNamed(ordered)].sort()) {
    try {
      const file = await fileOf(sha256);
      if (file) files.push(file);
      else missing += 1;
    } catch (error) {
      if (!(error instanceof StoreTrouble)) throw error;
      unreadable += 1;
    }
  }
  const members = [
    `"format": ${JSON.stringify(FORMAT)}`,
    `"gauging": ${JSON.stringify(gauging)}`,
    `"entries": [\n${ordered.map((entry) => JSON.stringify(inFixedOrder(entry))).join(",\n")}\n]`,
  ];
  if (files.length > 0) members.push(`"files": {\n${files.map(member).join(",\n")}\n}`);
  if (computed?.record) members.push(`"record": ${JSON.stringify(computed.record)}`);
  if (computed?.shown) members.push(`"shown": ${JSON.stringify(computed.shown)}`);
  const text = `{\n${members.join(",\n")}\n}\n`;
  return {
    name: exportName(ordered),
    blob: new Blob([text], { type: MEDIA_TYPE }),
    gauging,
    entryIds: ordered.map(({ id }) => id),
    missing,
    unreadable,
  };
}

/**
 * Return a file name that people can read, safe in every file system: stream, site, date, and what
 * tells this gauging and this many entries of it from every other.
 */
export function exportName(entries: readonly Entry[]): string {
  const ordered = united(entries);
  const [first, last] = [ordered[0]!, ordered.at(-1)!];
  const folded: Folded = fold(ordered);
  const parts = [
    safe(textAt(folded, "site/stream") ?? ""),
    safe(textAt(folded, "site/name") ?? ""),
    (textAt(folded, "started") ?? first.at).slice(0, 10),
    `${first.gauging.slice(0, 8).toLowerCase()}`,
    `${last.sequence}`,
  ];
  return `${parts.filter((part) => part !== "").join("-")}.bankside.json`;
}

function safe(text: string): string {
  const letters = text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  return letters.replace(/[^a-z0-9]+/g, "-").slice(0, 40).replace(/^-+|-+$/g, "");
}

function member({ sha256, type, bytes }: StoredFile): string {
  return `${JSON.stringify(sha256)}: ${JSON.stringify({ type, base64: toBase64(bytes) })}`;
}

/** The members of an entry in one order, whatever device it came from: equal entries, equal bytes. */
function inFixedOrder(entry: Entry): Entry {
  const { id, gauging, device, sequence, at, what, value, reason, by, replaces } = entry;
  return {
    id,
    gauging,
    device,
    sequence,
    at,
    what,
    value,
    ...(reason === undefined ? {} : { reason }),
    ...(by === undefined ? {} : { by }),
    ...(replaces === undefined ? {} : { replaces }),
  };
}
