/**
 * What is not known to be on the server goes there: entries first, which are small and worth most,
 * then photos. Only what the server has said to hold is marked, so that a run may end anywhere.
 */

import { contentOf, type Entry } from "../journal/entry.ts";
import { byGauging, fileNamed } from "../journal/summary.ts";
import { DIFFERS, type Stuck } from "./office_kept.ts";
import { sendPhotos } from "./photos_out.ts";
import type { Run } from "./run.ts";

const MOST_ENTRIES = 500;
const MOST_BYTES = 4_000_000;

/**
 * Send all that waits; SyncTrouble and StoreTrouble end it where it stands. Without `reviews` those
 * wait still: who does not review may not say them, and they are there mostly, as they came from there.
 */
export async function send(run: Run, reviews: boolean): Promise<void> {
  const named: Entry[] = [];
  let part: Entry[] = [];
  let bytes = 0;
  const flush = async () => {
    if (part.length > 0) named.push(...(await sendPart(run, part)));
    [part, bytes] = [[], 0];
  };
  await run.quiet();
  const { held, waiting } = await run.store.gaugingIds();
  await run.see(held);
  for (const gauging of waiting) {
    await run.quiet();
    for (const entry of await run.store.unsent(gauging)) {
      if (staysHere(run, entry) || (entry.what === "review" && !reviews)) continue;
      const size = bytesOf(entry);
      if (part.length === MOST_ENTRIES || bytes + size > MOST_BYTES) await flush();
      part.push(entry);
      bytes += size;
    }
  }
  await flush();
  await sendPhotos(run, named);
}

/** Send some entries and mark those that the server holds; return those that name a photo. */
async function sendPart(run: Run, part: readonly Entry[]): Promise<readonly Entry[]> {
  const { added, known, differing, refused, lineage } = await run.client.push(part);
  run.requireLineage(lineage);
  run.sent += added.length;
  const there = new Set([...added, ...known]);
  const held = part.filter(({ id }) => there.has(id));
  for (const [gauging, own] of byGauging(held.filter((entry) => fileNamed(entry) === null))) {
    await run.markSent(gauging, own);
  }
  const why = new Map(refused.map(({ id, said }) => [id, said]));
  for (const id of differing) why.set(id, DIFFERS);
  const stuck = part.flatMap(({ id, gauging }): [string, Stuck][] => {
    const said = why.get(id);
    return said === undefined ? [] : [[id, { gauging, said }]];
  });
  await run.stick(Object.fromEntries(stuck));
  return held.filter((entry) => fileNamed(entry) !== null);
}

/** Whether it was refused before, or waits in this run for a photo that another device has. */
function staysHere({ office, awaited }: Run, entry: Entry): boolean {
  const file = fileNamed(entry) ?? "";
  return entry.id in office.stuck || file in office.stuck || awaited.has(file);
}

const encoder = new TextEncoder();

function bytesOf(entry: Entry): number {
  return encoder.encode(contentOf(entry)).byteLength + 1;
}
