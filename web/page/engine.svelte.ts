/** The engine as the page sees it: a worker kept alive, its state reactive. */

import type { BootStep, EnginePlaces, ToEngine } from "../worker/messages.ts";
import type { About, Engine, EngineState } from "./engine_contract.ts";
import { EngineKeeper, QuestionFatal, type Standing, type Thread } from "./engine_keeper.ts";
import type { Reply } from "./view.ts";

const STEPS: Readonly<Record<BootStep, string>> = {
  fetch: "Fetching what computes",
  start: "Starting Python",
  unpack: "Unpacking Bankside",
  import: "Loading the methods",
  "first answer": "Waiting for the first answer",
};

/** Start the engine once `after` is over; the page is usable meanwhile. */
export function createEngine(after: Promise<unknown>): Engine {
  const places: EnginePlaces = {
    pyodide: new URL(ENGINE_PLACE.pyodide, document.baseURI).href,
    bankside: new URL(ENGINE_PLACE.python, document.baseURI).href,
  };
  return new WorkerEngine(after, () => {
    const worker = new Worker(new URL("../worker/engine.ts", import.meta.url), { type: "module" });
    worker.postMessage({ kind: "boot", places } satisfies ToEngine);
    return worker;
  });
}

class WorkerEngine implements Engine {
  #standing: Standing = $state.raw({ state: "loading", step: null, about: null, trouble: null });
  readonly #about: About | null = $derived(
    this.#standing.about === null ? null : (JSON.parse(this.#standing.about) as About),
  );
  readonly #keeper: EngineKeeper;

  constructor(after: Promise<unknown>, start: () => Thread) {
    this.#keeper = new EngineKeeper({
      after,
      start,
      changed: (standing) => (this.#standing = standing),
    });
  }

  get state(): EngineState {
    return this.#standing.state;
  }

  get step(): string {
    const { step } = this.#standing;
    if (step === null) return "";
    const megabytes = step.bytes === 0 ? "" : `, ${(step.bytes / 1e6).toFixed(1)} MB so far`;
    return STEPS[step.name] + megabytes;
  }

  get trouble(): string | null {
    return this.#standing.trouble;
  }

  get about(): About | null {
    return this.#about;
  }

  async ask<T>(request: { readonly ask: string } & Record<string, unknown>): Promise<Reply<T>> {
    try {
      return JSON.parse(await this.#keeper.ask(JSON.stringify(request))) as Reply<T>;
    } catch (error) {
      if (!(error instanceof QuestionFatal)) throw error;
      const message = `This could not be worked out: the computing failed twice (${error.message}).`;
      return { ok: false, faults: [{ message }] };
    }
  }

  tryAgain(): void {
    this.#keeper.tryAgain();
  }
}
