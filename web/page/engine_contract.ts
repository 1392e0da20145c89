/** What the page asks of the engine; `engine.svelte.ts` fulfils it with a worker. */

import type { Reply } from "./view.ts";

export type EngineState = "loading" | "ready" | "restarting" | "off";

/** What the engine is, by its own word. */
export interface About {
  readonly version: string;
  readonly method_version: string;
  readonly rule_sets: readonly { readonly name: string; readonly title: string }[];
}

export interface Engine {
  /** Reactive: a screen that reads it is drawn anew when it changes. */
  readonly state: EngineState;
  /** The step of loading under way, for the progress line; empty when none is. */
  readonly step: string;
  /** Why it is off or being restarted, as the end of a sentence; null while all is well. */
  readonly trouble: string | null;
  /** Null until it first answers. */
  readonly about: About | null;
  /**
   * Ask `bankside.bank` for something. Waits while the engine loads; outlives its death, since the
   * question is put again after a restart. Rejects only when the engine is off for good.
   */
  ask<T>(request: { readonly ask: string } & Record<string, unknown>): Promise<Reply<T>>;
  /** Begin anew after it went off. */
  tryAgain(): void;
}
