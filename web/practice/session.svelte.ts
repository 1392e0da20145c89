/** The practice session of an open gauging: what was done at the stream, and what it showed. */

import type { Store } from "../journal/store_contract.ts";
import type { Engine } from "../page/engine_contract.ts";
import { sentence } from "../page/sentence.ts";
import type { Act, SessionSaid, SessionView, Shown, Told } from "./contract.ts";

/** Under which name of a setting the session of a gauging is kept: practice has a store of its own. */
export function settingOf(gauging: string): string {
  return `session/${gauging}`;
}

interface Around {
  readonly store: Pick<Store, "setting" | "setSetting">;
  readonly engine: Pick<Engine, "ask">;
}

export class PracticeSession {
  said: SessionSaid | null = $state.raw(null);
  view: SessionView | null = $state.raw(null);
  /** Findings that were shown while there was time to do something about them. */
  told: readonly Told[] = $state.raw([]);
  /** Why the last act could not be done, or nothing be shown, in one sentence. */
  trouble: string | null = $state(null);
  /** Whether an act is under way: another one waits for it. */
  acting = $state(false);
  readonly #name: string;
  readonly #around: Around;

  constructor(gauging: string, around: Around) {
    this.#name = settingOf(gauging);
    this.#around = around;
  }

  /** The last thing that acts of this kind have shown, null where none has. */
  last<K extends Shown["kind"]>(kind: K): Extract<Shown, { kind: K }> | null {
    const found = (this.view?.shown ?? []).findLast((one) => one?.kind === kind);
    return (found as Extract<Shown, { kind: K }> | undefined) ?? null;
  }

  async read(): Promise<void> {
    try {
      const kept = (await this.#around.store.setting(this.#name)) as SessionSaid | undefined;
      this.told = ((await this.#around.store.setting(this.#toldName)) as readonly Told[] | undefined) ?? [];
      if (kept !== undefined) await this.#show(kept);
      else this.trouble = "What was done at this stream is not on this device any more.";
    } catch (error) {
      this.trouble = `The stream cannot be shown (${sentence(error)}).`;
    }
  }

  /** Remember what the checks say on the way, each finding once. */
  async hear(findings: readonly Told[]): Promise<void> {
    const known = new Set(this.told.map(({ check, found }) => `${check} ${found}`));
    const fresh = findings.filter(({ check, found }) => !known.has(`${check} ${found}`));
    if (fresh.length === 0) return;
    this.told = [...this.told, ...fresh.map(({ check, found, severity }) => ({ check, found, severity }))];
    await this.#around.store.setSetting(this.#toldName, this.told);
  }

  get #toldName(): string {
    return `${this.#name}/told`;
  }

  /** Do one thing more; what cannot be done is told and leaves everything as it was. */
  async act(act: Act): Promise<void> {
    if (this.said === null || this.acting) return;
    this.acting = true;
    try {
      const next = { ...this.said, acts: [...this.said.acts, act] };
      if (await this.#show(next)) await this.#around.store.setSetting(this.#name, next);
    } catch (error) {
      this.trouble = `This could not be done (${sentence(error)}).`;
    } finally {
      this.acting = false;
    }
  }

  async #show(said: SessionSaid): Promise<boolean> {
    const reply = await this.#around.engine.ask<SessionView>({ ask: "practise", session: said });
    if (!reply.ok) {
      this.trouble = reply.faults.map(({ message }) => `${message}.`).join(" ");
      return false;
    }
    [this.said, this.view, this.trouble] = [said, reply, null];
    return true;
  }
}

const opened = new Map<string, PracticeSession>();

/** The session of a gauging, the same one for every screen. */
export function sessionOf(gauging: string, around: Around): PracticeSession {
  let session = opened.get(gauging);
  if (session === undefined) {
    session = new PracticeSession(gauging, around);
    opened.set(gauging, session);
    void session.read();
  }
  return session;
}
