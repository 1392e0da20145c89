/**
 * Keeps an engine answering: boots its thread, watches it, ends it when it falls silent, starts
 * another after a death and puts the waiting questions again. One question is out at a time, so it
 * is known which one a death belongs to.
 *
 * Waiting is counted in ticks of a timer, not by the clock: a phone that slept has not waited.
 */

import { BOOT_STEPS, type BootStep, type FromEngine, type ToEngine } from "../worker/messages.ts";
import type { EngineState } from "./engine_contract.ts";

/** A thread that runs an engine: what this needs of a Worker, which sends FromEngine. */
export type Thread = Pick<Worker, "onmessage" | "onerror" | "terminate"> & {
  postMessage(message: ToEngine): void;
};

/** How the engine stands; a new object at every change. */
export interface Standing {
  readonly state: EngineState;
  /** The boot step under way and the bytes fetched so far; null when none is. */
  readonly step: { readonly name: BootStep; readonly bytes: number } | null;
  /** The reply to the first question, as JSON text; stays when a later thread is booted. */
  readonly about: string | null;
  /** Why the last thread ended; null once a thread answers again. */
  readonly trouble: string | null;
}

export interface KeeperOptions {
  /** Make a thread and tell it where its files are. */
  readonly start: () => Thread;
  readonly changed: (standing: Standing) => void;
  /** Nothing is started before; at once where nothing is said. */
  readonly after?: Promise<unknown>;
}

/** Seconds without a sign of life: a slow phone starts Python well within them. */
export const SILENT_BOOT = 45;
/** Seconds for one answer; a computed gauging takes milliseconds, some hundred on a slow phone. */
export const SILENT_QUESTION = 20;
/** Seconds to wait after the first death in a row, the second, …; after one more it is off. */
export const PAUSES: readonly number[] = [1, 2, 4, 8];
/** It is off sooner if so many threads in a row never came to a first answer. */
const FAILED_BOOTS = 3;
/** A question that was out at so many deaths is given back instead of put again. */
const DEATHS_OF_A_QUESTION = 2;

interface Question {
  readonly id: number;
  readonly text: string;
  readonly resolve: (text: string) => void;
  readonly reject: (error: Error) => void;
  deaths: number;
}

/** The engine is off; the message says why. */
export class EngineOff extends Error {
  override readonly name = "EngineOff";
}

/** The engine died of this very question, more than once; it goes on with the others. */
export class QuestionFatal extends Error {
  override readonly name = "QuestionFatal";
}

export class EngineKeeper {
  #standing: Standing = { state: "loading", step: null, about: null, trouble: null };
  readonly #options: KeeperOptions;
  #thread: Thread | null = null;
  #waiting: Question[] = [];
  #out: Question | null = null;
  #asked = 0;
  /** In a row, without an answer in between. */
  #deaths = 0;
  #failedBoots = 0;
  #silentFor = 0;
  #ticking: ReturnType<typeof setInterval> | undefined;

  constructor(options: KeeperOptions) {
    this.#options = options;
    if (options.after === undefined) this.#boot();
    else void options.after.then(() => this.#boot());
  }

  get standing(): Standing {
    return this.#standing;
  }

  /** Put a question; resolves with the answer's text. EngineOff or QuestionFatal if none comes. */
  ask(text: string): Promise<string> {
    return new Promise((resolve, reject) => {
      if (this.#standing.state === "off") {
        reject(new EngineOff(this.#standing.trouble ?? ""));
        return;
      }
      this.#asked += 1;
      this.#waiting.push({ id: this.#asked, text, resolve, reject, deaths: 0 });
      this.#putNext();
    });
  }

  /** Begin anew after it went off. */
  tryAgain(): void {
    if (this.#standing.state !== "off") return;
    this.#deaths = 0;
    this.#failedBoots = 0;
    this.#stand({ state: "loading", trouble: null });
    this.#boot();
  }

  #boot(): void {
    this.#stand({ step: { name: BOOT_STEPS[0], bytes: 0 } });
    this.#watch();
    let thread: Thread;
    try {
      thread = this.#options.start();
    } catch (error) {
      this.#died(String(error));
      return;
    }
    this.#thread = thread;
    thread.onmessage = ({ data }: MessageEvent<FromEngine>) => {
      if (thread === this.#thread) this.#heard(data);
    };
    thread.onerror = ({ message }) => {
      if (thread === this.#thread) this.#died(message || "its files could not be loaded");
    };
  }

  #heard(message: FromEngine): void {
    this.#silentFor = 0;
    if (message.kind === "died") this.#died(message.why);
    else if (message.kind === "step") this.#stepped(message.step, message.bytes);
    else if (message.kind === "ready") {
      this.#failedBoots = 0;
      this.#stand({ state: "ready", step: null, about: message.about, trouble: null });
      this.#putNext();
    } else if (message.id === this.#out?.id) {
      const { resolve } = this.#out;
      this.#out = null;
      this.#deaths = 0;
      resolve(message.text);
      this.#putNext();
    }
  }

  /** Bytes may be told late, when the next step has begun. */
  #stepped(name: BootStep, bytes: number): void {
    const now = this.#standing.step;
    if (now !== null && BOOT_STEPS.indexOf(name) < BOOT_STEPS.indexOf(now.name)) return;
    this.#stand({ step: { name, bytes } });
  }

  #putNext(): void {
    if (this.#standing.state !== "ready" || this.#out !== null || this.#thread === null) return;
    const next = this.#waiting.shift();
    if (next === undefined) {
      clearInterval(this.#ticking);
      this.#ticking = undefined;
      return;
    }
    this.#out = next;
    this.#watch();
    this.#thread.postMessage({ kind: "ask", id: next.id, text: next.text });
  }

  #watch(): void {
    this.#silentFor = 0;
    this.#ticking ??= setInterval(() => {
      this.#silentFor += 1;
      const limit = this.#out === null ? SILENT_BOOT : SILENT_QUESTION;
      if (this.#thread !== null && this.#silentFor >= limit) {
        this.#died(`it gave no sign of life for ${limit} seconds`);
      }
    }, 1000);
  }

  #died(why: string): void {
    this.#thread?.terminate();
    this.#thread = null;
    this.#deaths += 1;
    if (this.#standing.state !== "ready") this.#failedBoots += 1;
    this.#takeBackQuestion(why);
    const pause = PAUSES[this.#deaths - 1];
    if (pause === undefined || this.#failedBoots >= FAILED_BOOTS) {
      this.#goOff(why);
      return;
    }
    this.#stand({ state: "restarting", step: null, trouble: why });
    setTimeout(() => this.#boot(), pause * 1000);
  }

  #takeBackQuestion(why: string): void {
    const question = this.#out;
    this.#out = null;
    if (question === null) return;
    question.deaths += 1;
    if (question.deaths < DEATHS_OF_A_QUESTION) this.#waiting.unshift(question);
    else question.reject(new QuestionFatal(why));
  }

  #goOff(why: string): void {
    clearInterval(this.#ticking);
    this.#ticking = undefined;
    this.#stand({ state: "off", step: null, trouble: why });
    const refused = this.#waiting;
    this.#waiting = [];
    for (const question of refused) question.reject(new EngineOff(why));
  }

  #stand(change: Partial<Standing>): void {
    this.#standing = { ...this.#standing, ...change };
    this.#options.changed(this.#standing);
  }
}
