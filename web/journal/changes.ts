/** What is kept in the database, and the longer work on it that takes one transaction. */

import type { DBSchema, IDBPObjectStore, IDBPTransaction } from "idb";

import { contentOf, type Entry, type Value } from "./entry.ts";
import { StoreTrouble, type GaugingIds, type StoredFile } from "./store_contract.ts";
import { byGauging, fileNamed, filesNamed, whereaboutsOf, type Mark } from "./summary.ts";

export interface Kept extends DBSchema {
  entries: { key: string; value: Entry; indexes: { gauging: string } };
  files: { key: string; value: StoredFile };
  marks: { key: [string, string]; value: Mark; indexes: { gauging: string } };
  drafts: { key: string; value: Value };
  settings: { key: string; value: unknown };
}

/** Return those that are not there; StoreTrouble if one is there with other content. */
export function fresh(
  entries: readonly Entry[],
  there: readonly (Entry | undefined)[],
): readonly Entry[] {
  return entries.filter((entry, i) => !isSame(entry, there[i]));
}

/** Whether an entry is kept already; StoreTrouble if it is kept with other content. */
function isSame(entry: Entry, kept: Entry | undefined): boolean {
  if (kept === undefined) return false;
  if (contentOf(kept) === contentOf(entry)) return true;
  throw new StoreTrouble(
    "differs",
    `Entry ${entry.id} is on this device with other content; nothing was written.`,
  );
}

type Marks = IDBPObjectStore<Kept, ("entries" | "marks" | "settings")[], "marks", "readwrite">;

/** Remember of more entries of a gauging where they have gone. */
export async function addMark(
  marks: Marks,
  gauging: string,
  whereabouts: Mark["whereabouts"],
  ids: readonly string[],
): Promise<void> {
  const before = await marks.get([gauging, whereabouts]);
  const entries = [...new Set([...(before?.entries ?? []), ...ids])];
  await marks.put({ gauging, whereabouts, entries });
}

/** Put back the entries of a second copy that are not here; return how many gaugings it has. */
export async function putBack(
  tx: IDBPTransaction<Kept, "entries"[], "readwrite">,
  entries: readonly Entry[],
): Promise<number> {
  const kept = tx.objectStore("entries");
  const there = new Set(await kept.getAllKeys());
  for (const entry of entries) {
    if (there.has(entry.id)) continue;
    there.add(entry.id);
    await kept.add(entry);
  }
  return byGauging(entries).size;
}

export type TakingIn = IDBPTransaction<Kept, ("entries" | "marks" | "settings")[], "readwrite">;

/** Keep what came from the server and is not here yet, and that all that is the same is there. */
export async function takeIn(
  tx: TakingIn,
  entries: readonly Entry[],
): Promise<{ added: readonly Entry[]; differing: readonly string[] }> {
  const [kept, marks] = [tx.objectStore("entries"), tx.objectStore("marks")];
  const found = await Promise.all(entries.map(({ id }) => kept.get(id)));
  const there = new Map(found.map((entry) => [entry?.id, entry]));
  const [added, same, differing]: [Entry[], Entry[], string[]] = [[], [], []];
  for (const entry of entries) {
    const known = there.get(entry.id);
    if (known === undefined) added.push(entry);
    else if (contentOf(known) !== contentOf(entry)) {
      differing.push(entry.id);
      continue;
    }
    there.set(entry.id, entry);
    if (fileNamed(entry) === null) same.push(entry);
  }
  await Promise.all(added.map((entry) => kept.add(entry)));
  for (const [gauging, own] of byGauging(same)) {
    await addMark(marks, gauging, "on the server", own.map(({ id }) => id));
  }
  return { added, differing };
}

/** Return which gaugings there are, and how far each has come, from their keys alone. */
export async function gaugingIds(
  tx: IDBPTransaction<Kept, ("entries" | "marks")[], "readonly">,
): Promise<GaugingIds> {
  const [gaugings, marks] = [tx.objectStore("entries").index("gauging"), tx.objectStore("marks")];
  const held: string[] = [];
  let at = await gaugings.openKeyCursor(null, "nextunique");
  for (; at !== null; at = await at.continue()) held.push(at.key);
  const keys = await marks.getAllKeys();
  const whole = keys.filter(([, kind]) => kind === "whole").map(([gauging]) => gauging);
  const waiting: string[] = [];
  for (const gauging of held) {
    const [ids, mark] = await Promise.all([
      gaugings.getAllKeys(gauging),
      marks.get([gauging, "on the server"]),
    ]);
    const there = new Set(mark?.entries);
    if (!ids.every((id) => there.has(id))) waiting.push(gauging);
  }
  return { held, whole, waiting };
}

/** The settings that name what was removed, and may be in the second copy still. */
export const TO_FORGET = "second-copy-forget/";

export function leaving(gauging: string): string {
  return `${TO_FORGET}${gauging}`;
}

type Removing = IDBPTransaction<
  Kept,
  ("entries" | "files" | "marks" | "drafts" | "settings")[],
  "readwrite"
>;

/**
 * Remove a gauging with all that is about it alone, and remember which files went with it until the
 * second copy has let go of them; StoreTrouble while it is here only.
 */
export async function remove(tx: Removing, gauging: string): Promise<void> {
  const [entries, files, marks] = [
    tx.objectStore("entries"),
    tx.objectStore("files"),
    tx.objectStore("marks"),
  ];
  const [all, left] = await Promise.all([entries.getAll(), marks.index("gauging").getAll(gauging)]);
  const own = all.filter((entry) => entry.gauging === gauging);
  if (whereaboutsOf(own, left) === "here only") {
    throw new StoreTrouble(
      "kept",
      "This gauging is on this device only and stays here: export it before it is removed.",
    );
  }
  const elsewhere = filesNamed(all.filter((entry) => entry.gauging !== gauging));
  const unused = [...filesNamed(own)].filter((sha256) => !elsewhere.has(sha256));
  await Promise.all([
    ...own.map(({ id }) => entries.delete(id)),
    ...unused.map((sha256) => files.delete(sha256)),
    ...left.map((mark) => marks.delete([gauging, mark.whereabouts])),
    tx.objectStore("drafts").delete(gauging),
    tx.objectStore("settings").put(unused, leaving(gauging)),
  ]);
}
