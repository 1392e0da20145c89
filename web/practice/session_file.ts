/** A practice session as a file for the leader: what was done, what was written, who it was. */

import { fold, type Folded, valueAt } from "../journal/fold.ts";
import type { Store } from "../journal/store_contract.ts";
import { crewOf } from "../page/crew.ts";
import type { Engine } from "../page/engine_contract.ts";
import { lastDecision } from "../page/wading.ts";
import type { SessionSaid, Told } from "./contract.ts";
import { settingOf } from "./session.svelte.ts";

export interface SessionFile {
  readonly format: "bankside.practice/1";
  readonly person: string;
  /** On which it was, as YYYY-MM-DD in the time of its device. */
  readonly day: string;
  readonly session: SessionSaid;
  readonly told: readonly Told[];
  readonly record: { readonly id?: string };
}

/** What keeps a gauging from being a file; "unnamed" until somebody says who practised. */
export type Hindrance = "open" | "unnamed" | "not here";

interface Around {
  readonly store: Pick<Store, "entries" | "setting" | "setSetting">;
  readonly engine: Pick<Engine, "ask">;
}

/**
 * Return the session of a gauging as its file holds it, or what keeps it from being one. Rejects
 * where the store cannot be read, the engine is off, or the journal makes no record.
 */
export async function sessionFile(gauging: string, { store, engine }: Around): Promise<SessionFile | Hindrance> {
  const entries = await store.entries(gauging);
  const folded = fold(entries);
  if ((valueAt(folded, "closed") ?? null) === null) return "open";
  const session = (await store.setting(settingOf(gauging))) as SessionSaid | undefined;
  if (session === undefined) return "not here";
  const recorder = crewOf(folded).find(({ roles }) => roles.includes("recorder"))?.name;
  const person = recorder?.trim() || ((await store.setting(personOf(gauging))) as string | undefined);
  if (!person) return "unnamed";
  const reply = await engine.ask<{ record: Record<string, unknown> }>({ ask: "record", entries });
  if (!reply.ok) throw new Error(reply.faults.map(({ message }) => message).join("; "));
  // Inside the file it is a part, which names no format of its own.
  const { format: _, ...record } = reply.record;
  const told = ((await store.setting(`${settingOf(gauging)}/told`)) as readonly Told[] | undefined) ?? [];
  const day = (entries[0]?.at ?? "").slice(0, 10);
  return { format: "bankside.practice/1", person, day, session: asDecided(session, folded), told, record };
}

/** What was decided at "Safe to wade?" is an act of the session as well: its file tells it alone. */
export function asDecided(session: SessionSaid, folded: Folded): SessionSaid {
  if (lastDecision(folded)?.safe !== false || session.acts.at(-1)?.do === "stay out") return session;
  return { ...session, acts: [...session.acts, { do: "stay out" }] };
}

/** Keep who practised, where no recorder was said. */
export async function namePerson(gauging: string, name: string, { store }: Pick<Around, "store">): Promise<void> {
  await store.setSetting(personOf(gauging), name.trim());
}

export function sessionFileName({ person, session }: SessionFile): string {
  const parts = ["practice", person, session.stream, String(session.seed)];
  return `${parts.join("-").replace(/[^\p{L}\p{N}]+/gu, "-")}.json`;
}

function personOf(gauging: string): string {
  return `${settingOf(gauging)}/person`;
}
