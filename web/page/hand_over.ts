/** Giving a file to the browser, and remembering that it left. */

import { journalFile, type Computed, type JournalFile } from "../journal/export.ts";
import { StoreTrouble, type Store } from "../journal/store_contract.ts";
import type { Entry } from "../journal/entry.ts";
import type { OpenGauging } from "./gauging.svelte.ts";

export type Way = "download" | "share";

/** Whether this browser hands files of our kind to other apps. */
export function sharesFiles(): boolean {
  const file = new File(["{}"], "gauging.bankside.json", { type: "application/json" });
  return navigator.canShare?.({ files: [file] }) ?? false;
}

/**
 * Hand a gauging over as a file and return what came of it, in sentences; null if the person gave
 * it up. The entries are marked as exported only after the browser took the file: what becomes of
 * it then nobody tells us.
 */
export async function handOver(
  way: Way,
  store: Store,
  entries: readonly Entry[],
  computed?: Computed,
): Promise<string | null> {
  const made = await journalFile(entries, (sha256) => store.file(sha256), computed);
  if (way === "download") download(made.file);
  else if (!(await shared(made.file))) return null;
  return `${wordsOf(made)}${await marked(store, made)}`;
}

/** Return what the engine made of an open gauging, undefined unless it has seen every entry. */
export function computedOf(gauging: OpenGauging, version: string | undefined): Computed | undefined {
  const { view } = gauging;
  if (view === null || gauging.viewOf !== gauging.entries.length) return undefined;
  const { record, result } = view;
  if (result === null || version === undefined) return { record, shown: null };
  const { discharge_m3s, method_version } = result;
  return { record, shown: { discharge_m3s, method_version, version } };
}

function download(file: File): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = file.name;
  link.click();
  // Not at once: the browser reads the file after the click.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

async function shared(file: File): Promise<boolean> {
  try {
    await navigator.share({ files: [file] });
    return true;
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return false;
    throw error;
  }
}

function wordsOf({ file, entryIds, photos, missing }: JournalFile): string {
  const held = [counted(entryIds.length, "entry", "entries")];
  if (photos > 0) held.push(counted(photos, "photo", "photos"));
  const without =
    missing === 0
      ? ""
      : ` ${counted(missing, "photo is", "photos are")} named in it and not in it: not on this device.`;
  return (
    `The file ${file.name} with ${held.join(" and ")} was handed to the browser.` +
    `${without} See that it is where you want it.`
  );
}

async function marked(store: Store, { gauging, entryIds }: JournalFile): Promise<string> {
  try {
    await store.mark(gauging, "exported", entryIds);
    return "";
  } catch (error) {
    if (!(error instanceof StoreTrouble)) throw error;
    return " That it was exported could not be noted on this device.";
  }
}

export function counted(count: number, one: string, more: string): string {
  return `${count} ${count === 1 ? one : more}`;
}
