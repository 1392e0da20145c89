/** Who is ready, from the sessions of this device and from session files that were loaded. */

import type { Store } from "../journal/store_contract.ts";
import type { Engine } from "../page/engine_contract.ts";
import { sentence } from "../page/sentence.ts";
import type { ReadinessView, Requirements } from "./readiness_contract.ts";
import { sessionFile, type SessionFile } from "./session_file.ts";

const LOADED = "readiness/sessions";
const ASKED = "readiness/requirements";

interface Around {
  readonly store: Pick<Store, "entries" | "gaugings" | "setting" | "setSetting">;
  readonly engine: Pick<Engine, "ask">;
}

/** A gauging on this device that does not count, and why. */
export interface LeftOut {
  readonly id: string;
  readonly called: string;
  readonly why: "open" | "unnamed" | "not here" | "unreadable";
}

export class Readiness {
  view: ReadinessView | null = $state.raw(null);
  own: readonly SessionFile[] = $state.raw([]);
  loaded: readonly SessionFile[] = $state.raw([]);
  left: readonly LeftOut[] = $state.raw([]);
  /** Why nothing can be said, or the requirements cannot be, in sentences. */
  trouble: string | null = $state(null);
  /** Whether it is being worked out. */
  working = $state(false);
  #asked: Requirements | null = null;
  /** The last question put; an answer to an earlier one is none any more. */
  #questions = 0;
  readonly #around: Around;

  constructor(around: Around) {
    this.#around = around;
  }

  /** Read what is kept here, and say how everybody stands. */
  async read(): Promise<void> {
    this.working = true;
    try {
      const { store } = this.#around;
      this.#asked = ((await store.setting(ASKED)) as Requirements | undefined) ?? null;
      this.loaded = ((await store.setting(LOADED)) as readonly SessionFile[] | undefined) ?? [];
      await this.#readOwn();
    } catch (error) {
      this.trouble = `The practice on this device could not be read (${sentence(error)}).`;
    }
    await this.#say();
  }

  /** Ask for something else; where it cannot be asked for, that is told and the former stands. */
  async ask(requirements: Requirements): Promise<void> {
    if (await this.#say(requirements)) {
      this.#asked = requirements;
      await this.#keep(ASKED, requirements);
    }
  }

  /** Take in a session file; return what became of it in one sentence. */
  async load(name: string, text: string): Promise<string> {
    let file: SessionFile;
    try {
      file = JSON.parse(text.replace(/^\uFEFF/, "")) as SessionFile;
    } catch {
      return `${name} was not taken: a practice session is right, as Practice saves it for the leader.`;
    }
    const reply = await this.#around.engine.ask<ReadinessView>({ ask: "readiness", sessions: [file] });
    if (!reply.ok) return `${name} was not taken: ${reply.faults.map(({ message }) => message).join("; ")}.`;
    if ([...this.own, ...this.loaded].some((one) => isSame(one, file))) return `${name} is here already.`;
    this.loaded = [...this.loaded, file];
    await this.#keep(LOADED, this.loaded);
    return `${name} was taken: ${file.person}, ${file.session.stream} ${file.session.seed}.`;
  }

  /** Say how everybody stands, after sessions came or went. */
  again(): Promise<boolean> {
    return this.#say();
  }

  /** Forget the loaded files; their people have them still. */
  async unload(): Promise<void> {
    this.loaded = [];
    await this.#keep(LOADED, []);
    await this.#say();
  }

  async #readOwn(): Promise<void> {
    const own: SessionFile[] = [];
    const left: LeftOut[] = [];
    for (const { id, stream, site } of await this.#around.store.gaugings()) {
      const called = `${stream.replace(/^Practice: /, "")}, ${site}`;
      const found = await sessionFile(id, this.#around).catch(() => "unreadable" as const);
      if (typeof found === "string") left.push({ id, called, why: found });
      else own.push(found);
    }
    // The list tells the last begun first; tries are told in the order in which they were made.
    this.own = own.reverse();
    this.left = left;
  }

  async #say(requirements: Requirements | null = this.#asked): Promise<boolean> {
    const question = ++this.#questions;
    this.working = true;
    const own = this.own.filter((one) => !this.loaded.some((other) => isSame(one, other)));
    const sessions = [...own, ...this.loaded];
    const asked = requirements === null ? {} : { requirements };
    try {
      const reply = await this.#around.engine.ask<ReadinessView>({ ask: "readiness", sessions, ...asked });
      if (question !== this.#questions) return false;
      if (reply.ok) [this.view, this.trouble] = [reply, null];
      else this.trouble = reply.faults.map(({ message }) => `${message}.`).join(" ");
      return reply.ok;
    } catch (error) {
      if (question === this.#questions) this.trouble = `It cannot be worked out who is ready (${sentence(error)}).`;
      return false;
    } finally {
      if (question === this.#questions) this.working = false;
    }
  }

  async #keep(name: string, value: unknown): Promise<void> {
    try {
      await this.#around.store.setSetting(name, value);
    } catch (error) {
      this.trouble = `It holds until the app is closed; it could not be kept (${sentence(error)}).`;
    }
  }
}

/** Whether two files hold what one person did and wrote once, however they were saved. */
function isSame(one: SessionFile, other: SessionFile): boolean {
  return keyOf(one) === keyOf(other);
}

function keyOf({ person, session, record }: SessionFile): string {
  return JSON.stringify([person, session, record?.id]);
}
