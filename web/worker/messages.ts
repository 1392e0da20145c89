/** What crosses between the page and the engine's thread. Figures cross as JSON text alone. */

/** The steps from nothing to the first answer, in this order. */
export const BOOT_STEPS = ["fetch", "start", "unpack", "import", "first answer"] as const;
export type BootStep = (typeof BOOT_STEPS)[number];

/** Where the engine's files are: whole addresses, of a folder with its closing stroke and a file. */
export interface EnginePlaces {
  readonly pyodide: string;
  readonly bankside: string;
}

export type ToEngine =
  | { readonly kind: "boot"; readonly places: EnginePlaces }
  | { readonly kind: "ask"; readonly id: number; readonly text: string };

export type FromEngine =
  /** Sent at each step, and with more bytes while files come in. */
  | { readonly kind: "step"; readonly step: BootStep; readonly bytes: number }
  /** The reply to the first question, which is what the engine is. */
  | { readonly kind: "ready"; readonly about: string }
  | { readonly kind: "answer"; readonly id: number; readonly text: string }
  /** Nothing more will come from this thread. */
  | { readonly kind: "died"; readonly why: string };
