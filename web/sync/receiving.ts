/**
 * What others said comes to this device. Entries are on the device before the cursor moves past
 * them, so that a run may end anywhere: what is asked for again is here once.
 */

import type { Entry } from "../journal/entry.ts";
import type { TakenIn } from "../journal/store_contract.ts";
import { byGauging } from "../journal/summary.ts";
import type { Pulled } from "./contract.ts";
import { DIFFERS } from "./office_kept.ts";
import { OtherLineage, type Run } from "./run.ts";
import { SyncTrouble } from "./trouble.ts";

const MOST_ASKED = 500;
/** So few at a time that a reading which is saved meanwhile does not wait for them. */
const MOST_KEPT = 100;
const CONFLICT = 409;

/** Take in all that came to the server since, and what it has of gaugings held from before. */
export async function receive(run: Run): Promise<void> {
  for (;;) {
    await run.quiet();
    const { held, whole } = await run.store.gaugingIds();
    // What was begun since the last sending is not there yet.
    const sent = held.filter((gauging) => run.office.seen.includes(gauging));
    for (const gauging of sent) if (!whole.includes(gauging)) await fetchWhole(run, gauging);
    const pulled = await pull(run, held);
    run.requireLineage(pulled.lineage);
    await takePulled(run, pulled, new Set(held));
    if (!pulled.more) return;
  }
}

async function pull(run: Run, held: readonly string[]): Promise<Pulled> {
  try {
    return await run.client.pull(run.office.after, held, MOST_ASKED);
  } catch (error) {
    if (!(error instanceof SyncTrouble) || error.status !== CONFLICT) throw error;
    // Fewer entries have come than were pulled: the archive is not what it was.
    throw new OtherLineage((await run.client.about())?.lineage ?? "");
  }
}

async function takePulled(run: Run, { entries, after }: Pulled, held: ReadonlySet<string>): Promise<void> {
  for (const [gauging, own] of byGauging(entries)) {
    if (held.has(gauging)) await takeIn(run, gauging, own);
    // Somebody removed it from here: it comes back only where the office wants something of it.
    else if (!run.office.seen.includes(gauging) || own.some(isSentBack)) {
      // What comes may begin in the middle, so a gauging comes by its whole journal.
      await fetchWhole(run, gauging);
      await run.see([gauging]);
    }
  }
  if (after !== run.office.after) await run.remember({ after });
}

/** Fetch all that the server has of a gauging; it is taken in at once, so that none is here in part. */
async function fetchWhole(run: Run, gauging: string): Promise<void> {
  // Null where every entry of it was refused.
  const entries = (await run.client.journal(gauging)) ?? [];
  await run.quiet();
  await took(run, gauging, await run.store.takeInWhole(gauging, entries));
}

async function takeIn(run: Run, gauging: string, entries: readonly Entry[]): Promise<void> {
  for (let from = 0; from < entries.length; from += MOST_KEPT) {
    await run.quiet();
    await took(run, gauging, await run.store.takeIn(entries.slice(from, from + MOST_KEPT)));
  }
}

async function took(run: Run, gauging: string, { added, differing }: TakenIn): Promise<void> {
  run.received += added;
  run.changed(gauging, added > 0);
  await run.stick(Object.fromEntries(differing.map((id) => [id, { gauging, said: DIFFERS }])));
}

function isSentBack({ what, value }: Entry): boolean {
  return what === "review" && (value as { verdict?: unknown } | null)?.verdict === "sent back";
}
