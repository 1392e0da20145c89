/**
 * A second copy of entries and files, for the day on which the browser throws its database away.
 *
 * A browser that is killed while it writes may leave half a record behind. Chromium (seen in version
 * 156) goes on writing behind it, takes the whole database for damaged at its next start, and begins
 * an empty one without a word. Its cache files lie elsewhere, one for each thing that was kept.
 */

import { sha256Of } from "./digest.ts";
import type { Entry } from "./entry.ts";
import { entryFault } from "./entry_check.ts";
import { byGauging } from "./summary.ts";
import type { StoredFile } from "./store_contract.ts";

const ENTRIES = "/bankside/second-copy/entries/";
const FILES = "/bankside/second-copy/files/";
/** There once all that the database held has been copied. */
const WHOLE = "/bankside/second-copy/whole";

/** What is in the copy, and how many of its parts could not be read. */
export interface Copied {
  readonly entries: readonly Entry[];
  readonly files: readonly StoredFile[];
  readonly unreadable: number;
}

export class SecondCopy {
  readonly #cache: Promise<Cache>;

  /** `name`: of the database that it is a copy of. */
  constructor(name: string) {
    this.#cache = caches.open(`${name}-second-copy`);
    this.#cache.catch(() => undefined);
  }

  /** Whether all is here that the database held when the copy was begun. */
  async isWhole(): Promise<boolean> {
    return (await (await this.#cache).match(WHOLE)) !== undefined;
  }

  async setWhole(whole: boolean): Promise<void> {
    const cache = await this.#cache;
    if (whole) await cache.put(WHOLE, new Response(""));
    else await cache.delete(WHOLE);
  }

  /** Keep entries, those of a gauging in one file. */
  async keep(entries: readonly Entry[]): Promise<void> {
    const cache = await this.#cache;
    const kept = [...byGauging(entries)].map(([gauging, own]) =>
      cache.put(`${ofGauging(gauging)}${encodeURIComponent(own[0]!.id)}`, Response.json(own)),
    );
    await Promise.all(kept);
  }

  async keepFile({ sha256, type, bytes }: StoredFile): Promise<void> {
    const answer = new Response(bytes, { headers: { "Content-Type": type } });
    await (await this.#cache).put(`${FILES}${sha256}`, answer);
  }

  /** Return all that can be read; an entry that is there twice comes twice. */
  async read(): Promise<Copied> {
    const cache = await this.#cache;
    const [entries, files]: [Entry[], StoredFile[]] = [[], []];
    let unreadable = 0;
    for (const request of await cache.keys()) {
      const { pathname } = new URL(request.url);
      try {
        const answer = (await cache.match(request))!;
        if (pathname.startsWith(ENTRIES)) entries.push(...entriesIn(await answer.json()));
        else if (pathname.startsWith(FILES)) files.push(await fileIn(answer, pathname.slice(FILES.length)));
      } catch {
        unreadable++;
      }
    }
    return { entries, files, unreadable };
  }

  /** Let go of a gauging and of files, once they were removed from the database. */
  async forget(gauging: string, files: readonly string[]): Promise<void> {
    const cache = await this.#cache;
    const of = ofGauging(gauging);
    const own = (await cache.keys()).filter(({ url }) => new URL(url).pathname.startsWith(of));
    const gone = [...own, ...files.map((sha256) => `${FILES}${sha256}`)];
    await Promise.all(gone.map((request) => cache.delete(request)));
  }
}

/** Return the second copy of a database; null in a browser that has no caches. */
export function secondCopyOf(name: string): SecondCopy | null {
  return "caches" in globalThis ? new SecondCopy(name) : null;
}

function ofGauging(gauging: string): string {
  return `${ENTRIES}${encodeURIComponent(gauging)}/`;
}

function entriesIn(found: unknown): Entry[] {
  if (!Array.isArray(found) || found.some((entry) => entryFault(entry) !== null)) {
    throw new Error("no entries");
  }
  return found as Entry[];
}

async function fileIn(answer: Response, sha256: string): Promise<StoredFile> {
  const bytes = await answer.arrayBuffer();
  if ((await sha256Of(bytes)) !== sha256) throw new Error("other bytes");
  return { sha256, type: answer.headers.get("Content-Type") ?? "", bytes };
}
