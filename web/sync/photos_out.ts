/** Photos that the server does not hold go there one by one; then their entries count as there. */

import type { Entry } from "../journal/entry.ts";
import { byGauging, fileNamed } from "../journal/summary.ts";
import type { Run } from "./run.ts";
import { SyncTrouble } from "./trouble.ts";

const MOST_ASKED = 200;

/** Send the photos that these entries name; the entries are on the server already. */
export async function sendPhotos(run: Run, entries: readonly Entry[]): Promise<void> {
  const naming = new Map<string, Entry[]>();
  for (const entry of entries) {
    const sha256 = fileNamed(entry)!;
    naming.set(sha256, [...(naming.get(sha256) ?? []), entry]);
  }
  const files = [...naming.keys()];
  for (let from = 0; from < files.length; from += MOST_ASKED) {
    const asked = files.slice(from, from + MOST_ASKED);
    const missing = new Set(await run.client.missing(asked));
    const there = asked.filter((sha256) => !missing.has(sha256));
    await markAll(run, there.flatMap((sha256) => naming.get(sha256)!));
    for (const sha256 of asked.filter((one) => missing.has(one))) {
      if (await sendPhoto(run, sha256, naming.get(sha256)!)) await markAll(run, naming.get(sha256)!);
    }
  }
}

/** Send one photo; return whether the server holds it now. */
async function sendPhoto(run: Run, sha256: string, entries: readonly Entry[]): Promise<boolean> {
  await run.quiet();
  const file = await run.store.file(sha256);
  if (file === undefined) {
    run.awaited.add(sha256);
    return false;
  }
  try {
    await run.client.putFile(file);
    return true;
  } catch (error) {
    // The others are sent all the same.
    if (!(error instanceof SyncTrouble) || error.kind !== "refused") throw error;
    await run.stick({ [sha256]: { gauging: entries[0]!.gauging, said: error.message } });
    return false;
  }
}

async function markAll(run: Run, entries: readonly Entry[]): Promise<void> {
  for (const [gauging, own] of byGauging(entries)) await run.markSent(gauging, own);
}
