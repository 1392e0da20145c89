/** What crosses between the page and the service worker. */

export type ToKeeper =
  /** Say "kept" if every file is whole already; silence means that it is not so. */
  | { readonly kind: "check" }
  /** Keep every file for work without a network; may be asked again and goes on where it ended. */
  | { readonly kind: "keep all" }
  /** Take over from the version that runs now, unless the app is open in other tabs. */
  | { readonly kind: "take over" }
  /** Answered through the port that comes along. */
  | { readonly kind: "tell version" };

export type FromKeeper =
  /** Bytes of files that are whole, of all that are to be kept. */
  | { readonly kind: "keeping"; readonly done: number; readonly of: number }
  /** Every file was read back and is whole; `mended` of them were fetched or copied for it. */
  | { readonly kind: "kept"; readonly version: string; readonly mended: number }
  | { readonly kind: "not kept"; readonly why: string }
  | { readonly kind: "open elsewhere" }
  | { readonly kind: "withdrawn" };

/** The reply to "tell version". */
export interface Versions {
  readonly app: string;
  readonly engine: string;
}
