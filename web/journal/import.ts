/** Reading the file of a gauging, strictly, and uniting it with what is on the device. */

import type { Entry } from "./entry.ts";
import { brief, entryFault, isObject } from "./entry_check.ts";
import { fromBase64, sha256Of } from "./digest.ts";
import { FORMAT } from "./export.ts";
import { JournalFault, united } from "./fold.ts";
import { misplaced } from "./practice_mark.ts";
import { StoreTrouble, type Store, type StoredFile } from "./store_contract.ts";
import { filesNamed } from "./summary.ts";

/** Something in a file that keeps it from being read, in one sentence; nothing was taken from it. */
export class ImportFault extends Error {
  override readonly name = "ImportFault";
}

export interface ReadJournal {
  readonly gauging: string;
  readonly entries: readonly Entry[];
  readonly files: readonly StoredFile[];
}

export interface Imported {
  readonly gauging: string;
  /** Entries that were not on the device yet, and those of the file in all. */
  readonly added: number;
  readonly entries: number;
  /** Photos of the file that are on the device now. */
  readonly files: number;
  /** Why each other photo of the file is not: its entries are here all the same. */
  readonly unkept: readonly StoreTrouble[];
  /** How many photos the entries name that are not in the file. */
  readonly missing: number;
}

/**
 * Unite the file of a gauging with what is on the device. ImportFault if it is no such file;
 * StoreTrouble if the device does not take its entries. They go first: they are small, and worth
 * most. Photos that the device does not take are left out, and told.
 */
export async function importJournal(store: Store, file: Blob): Promise<Imported> {
  const { gauging, entries, files } = await readJournal(await textOf(file));
  const why = misplaced(gauging, store.practice);
  if (why !== null) throw fault(why);
  const added = await store.append(entries);
  const unkept: StoreTrouble[] = [];
  for (const photo of files) {
    try {
      await store.putFile(photo);
    } catch (error) {
      if (!(error instanceof StoreTrouble)) throw error;
      unkept.push(error);
    }
  }
  const there = new Set(files.map(({ sha256 }) => sha256));
  const missing = [...filesNamed(entries)].filter((sha256) => !there.has(sha256)).length;
  const kept = files.length - unkept.length;
  return { gauging, added, entries: entries.length, files: kept, unkept, missing };
}

/** Return what the text of a file holds; ImportFault with the first thing that is wrong. */
export async function readJournal(text: string): Promise<ReadJournal> {
  const document = parsed(text);
  if (!isObject(document)) throw fault(`must hold a JSON object (got ${brief(document)})`);
  requireFormat(document["format"]);
  const known = ["format", "gauging", "entries", "files", "record", "shown"];
  const unknown = Object.keys(document).find((name) => !known.includes(name));
  if (unknown !== undefined) throw fault(`must have no part ${brief(unknown)}`);
  const entries = readEntries(document["entries"]);
  const gauging = entries[0]!.gauging;
  if (document["gauging"] !== gauging) {
    throw fault(`must name the gauging of its entries, ${gauging} (got ${brief(document["gauging"])})`);
  }
  return { gauging, entries, files: await readFiles(document["files"]) };
}

async function textOf(file: Blob): Promise<string> {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
  } catch (error) {
    // What is no UTF-8 gives TypeError; a file that is gone or locked another.
    if (error instanceof TypeError) throw fault("must be text in UTF-8");
    throw fault(`could not be read from the device (${String(error)})`);
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    const start = text.trimStart();
    if (start === "") throw fault("is empty");
    if (!start.startsWith("{")) {
      throw fault(`must be JSON text (got ${brief(start.slice(0, 20))} at its start)`);
    }
    if (!start.trimEnd().endsWith("}")) {
      throw fault(`is cut off after ${text.length} characters: hand it over again`);
    }
    throw fault("is damaged: it is not JSON text from start to end");
  }
}

const right = (button: string): string =>
  `right here is the file that "${button}" writes, in the list of the device on which it was measured (${FORMAT})`;
/** What other files of ours are, which are no journals, and where each of them is at home. */
const OTHERS: Readonly<Record<string, string>> = {
  gauging:
    "holds a finished record (bankside.gauging/1), without the entries that the app goes on with; " +
    `${right("Export")}, while the record is taken in by the office, under Old sheets`,
  survey:
    `holds a survey (bankside.survey/1); ${right("Export")}, while a survey is taken in by the office, under Old sheets`,
  practice:
    "holds a practice session for the leader (bankside.practice/1), which is loaded under Who is ready; " +
    right("Export to go on elsewhere"),
};

function requireFormat(found: unknown): void {
  if (found === FORMAT) return;
  const version = /^bankside\.journal\/([1-9]\d{0,5})$/.exec(String(found))?.[1];
  if (version !== undefined) {
    throw fault(`has the format ${brief(found)}, written by a newer version of this app: update it`);
  }
  const other = /^bankside\.([a-z]+)\/\d+$/.exec(String(found))?.[1];
  throw fault(OTHERS[other ?? ""] ?? `must be of the format "${FORMAT}" (got ${brief(found)})`);
}

function readEntries(found: unknown): readonly Entry[] {
  if (!Array.isArray(found) || found.length === 0) {
    throw fault(`must have a list of entries (got ${brief(found)})`);
  }
  found.forEach((entry: unknown, i) => {
    const wrong = entryFault(entry);
    if (wrong !== null) throw fault(`has a fault in entry ${i + 1}: ${wrong}`);
  });
  const entries = found as Entry[];
  const other = entries.find(({ gauging }) => gauging !== entries[0]!.gauging);
  if (other !== undefined) {
    throw fault(`must be of one gauging (got ${entries[0]!.gauging} and ${other.gauging})`);
  }
  try {
    return united(entries);
  } catch (error) {
    if (error instanceof JournalFault) throw fault(`is damaged: ${error.message}`);
    throw error;
  }
}

async function readFiles(found: unknown): Promise<readonly StoredFile[]> {
  if (found === undefined) return [];
  if (!isObject(found)) throw fault(`must have files by their checksums (got ${brief(found)})`);
  const files: StoredFile[] = [];
  for (const [sha256, file] of Object.entries(found)) {
    const name = `file ${sha256.slice(0, 12)}`;
    if (!isObject(file) || typeof file["type"] !== "string" || typeof file["base64"] !== "string") {
      throw fault(`must give ${name} a type and its bytes in base64 (got ${brief(file)})`);
    }
    const bytes = fromBase64(file["base64"]);
    if (bytes === null) throw fault(`is damaged: ${name} is not base64`);
    if ((await sha256Of(bytes)) !== sha256) {
      throw fault(`is damaged: ${name} does not have the checksum that it stands under`);
    }
    files.push({ sha256, type: file["type"], bytes });
  }
  return files;
}

function fault(what: string): ImportFault {
  return new ImportFault(`The file ${what}.`);
}
