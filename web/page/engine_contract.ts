/** What the page asks of the engine; `engine.svelte.ts` fulfils it with a worker. */

import type { Reply } from "./view.ts";

export type EngineState = "loading" | "ready" | "restarting" | "off";

export interface Engine {
  /** Reactive: a screen that reads it is drawn anew when it changes. */
  readonly state: EngineState;
  /** The step of loading under way, for the progress line. */
  readonly step: string;
  /**
   * Ask `bankside.bank` for something. Waits while the engine loads; outlives its death, since the
   * question is put again after a restart. Rejects only when the engine is off for good.
   */
  ask<T>(request: { readonly ask: string } & Record<string, unknown>): Promise<Reply<T>>;
}
