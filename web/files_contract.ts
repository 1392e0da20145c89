/**
 * Which files the app is made of: written by build.py, read by the service worker, by the page and
 * by whoever checks a host.
 *
 * The same list stands in two places. `files.json` lies beside `index.html`. The service worker
 * has it as `self.FILES`, put in front of its code by the build: so a change of any file changes
 * `sw.js`, and a worker knows its own version's files even when the host has a newer one already.
 * Neither `sw.js` nor `files.json` is in the list: they are never kept.
 */

export interface AppFile {
  /** Relative to the folder of `index.html`, with forward slashes. */
  readonly path: string;
  readonly bytes: number;
  /** 64 hexadecimal digits. */
  readonly sha256: string;
  /** The media type it has to be served with. */
  readonly type: string;
}

/** Where the engine lies; a change of any of its bytes gives another version and another path. */
export interface EnginePlace {
  /** 12 hexadecimal digits over all files of the engine. */
  readonly version: string;
  /** The folder of the interpreter, with a slash at its end: `engine/pyodide-314.0.7/`. */
  readonly pyodide: string;
  /** The Python files, to be unpacked and put on the path: `engine/bankside-0123456789ab.zip`. */
  readonly python: string;
}

export interface AppFiles {
  readonly format: "bankside.files/1";
  /** The package's version and 12 digits over the shell and the service worker: `0.1.0+0123456789ab`. */
  readonly version: string;
  readonly engine_place: EnginePlace;
  /** What the app needs to open and to take readings; small. */
  readonly shell: readonly AppFile[];
  /** What it needs to compute; large, and seldom new. */
  readonly engine: readonly AppFile[];
}

/**
 * What the names of all caches of a service worker begin with, given its registration's scope:
 * apps that share an origin keep apart. A worker deletes only such caches, and so does the one
 * that withdraws the app (src/bankside/server/withdrawing_worker.js).
 */
export function cachePrefix(scope: string): string {
  return `bankside:${new URL(scope).pathname}:`;
}

declare global {
  /** The engine that this build of the page belongs to; put in by vite.config.ts. */
  const ENGINE_PLACE: EnginePlace;
}
