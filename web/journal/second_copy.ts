/**
 * A second copy of entries and files, for the day on which the browser throws its database away.
 *
 * A browser that is killed while it writes may leave half a record behind. Chromium (seen in version
 * 156) goes on writing behind it, takes the whole database for damaged at its next start, and begins
 * an empty one without a word. Its cache files lie elsewhere, one for each thing that was kept.
 */

import { sha256Of, sha256OfText } from "./digest.ts";
import type { Entry } from "./entry.ts";
import { entryFault } from "./entry_check.ts";
import { byGauging } from "./summary.ts";
import type { StoredFile } from "./store_contract.ts";

const ENTRIES = "/bankside/second-copy/entries/";
const FILES = "/bankside/second-copy/files/";
/** A gauging that has more cache files than this gets one. Ours, no source. */
const MOST_OF_A_GAUGING = 20;

/** The entries in the copy, the checksums of its files, and how many of its parts could not be read. */
export interface Copied {
  readonly entries: readonly Entry[];
  readonly files: readonly string[];
  readonly unreadable: number;
}

export class SecondCopy {
  readonly #cache: Promise<Cache>;

  /** `name`: of the database that it is a copy of. */
  constructor(name: string) {
    this.#cache = caches.open(`${name}-second-copy`);
    this.#cache.catch(() => undefined);
  }

  /** Resolve as soon as the browser gives anything of it. */
  async answers(): Promise<void> {
    await (await this.#cache).match(ENTRIES);
  }

  /** Keep entries, those of a gauging in one file. */
  async keep(entries: readonly Entry[]): Promise<void> {
    await Promise.all([...byGauging(entries)].map(([gauging, own]) => this.#keep(gauging, own)));
  }

  async keepFile({ sha256, type, bytes }: StoredFile): Promise<void> {
    const answer = new Response(bytes, { headers: { "Content-Type": type } });
    await (await this.#cache).put(`${FILES}${sha256}`, answer);
  }

  async hasFile(sha256: string): Promise<boolean> {
    return (await (await this.#cache).match(`${FILES}${sha256}`)) !== undefined;
  }

  /** Return a file, null if it cannot be read. */
  async file(sha256: string): Promise<StoredFile | null> {
    try {
      const answer = (await (await this.#cache).match(`${FILES}${sha256}`))!;
      const bytes = await answer.arrayBuffer();
      if ((await sha256Of(bytes)) !== sha256) return null;
      return { sha256, type: answer.headers.get("Content-Type") ?? "", bytes };
    } catch {
      return null;
    }
  }

  /**
   * Return all that can be read; an entry that is there twice comes twice. Files come by name: all
   * the photos of a season would not go into the memory of a phone.
   */
  async read(): Promise<Copied> {
    const [entries, files]: [Entry[], string[]] = [[], []];
    let unreadable = 0;
    for (const path of await this.#paths()) {
      if (path.startsWith(FILES)) files.push(path.slice(FILES.length));
      if (!path.startsWith(ENTRIES)) continue;
      const own = await this.#entriesAt(path);
      if (own === null) unreadable++;
      // One by one: a call takes only so many arguments.
      else for (const entry of own) entries.push(entry);
    }
    return { entries, files, unreadable };
  }

  /** Let go of a gauging and of files, once they were removed from the database. */
  async forget(gauging: string, files: readonly string[]): Promise<void> {
    const cache = await this.#cache;
    const own = (await this.#paths()).filter((path) => path.startsWith(ofGauging(gauging)));
    const gone = [...own, ...files.map((sha256) => `${FILES}${sha256}`)];
    await Promise.all(gone.map((path) => cache.delete(path)));
  }

  /**
   * Bring the many files of a gauging, one for each reading, into one: a season has thousands. What is
   * in it twice goes at a later start, as a browser that is killed may not have written the one yet.
   */
  async gather(): Promise<void> {
    const cache = await this.#cache;
    for (const [folder, paths] of byFolder(await this.#paths())) {
      if (paths.length <= MOST_OF_A_GAUGING) continue;
      const read = await Promise.all(paths.map(async (path) => ({ path, own: await this.#entriesAt(path) })));
      // What cannot be read stays as it is, and is counted on the day.
      const whole = read.flatMap(({ path, own }) => (own === null ? [] : [{ path, own }]));
      const most = whole.reduce((a, b) => (b.own.length > a.own.length ? b : a), whole[0]!);
      const there = new Set(most?.own.map((entry) => JSON.stringify(entry)));
      const isTwice = ({ path, own }: (typeof whole)[number]) =>
        path !== most.path && own.every((entry) => there.has(JSON.stringify(entry)));
      const twice = whole.filter(isTwice);
      await Promise.all(twice.map(({ path }) => cache.delete(path)));
      if (whole.length - twice.length <= MOST_OF_A_GAUGING) continue;
      const each = new Map(whole.flatMap(({ own }) => own.map((entry) => [JSON.stringify(entry), entry])));
      await this.#keep(decodeURIComponent(folder), [...each.values()]);
    }
  }

  /** Keep entries under the checksum of their text, so that nothing ever takes another's place. */
  async #keep(gauging: string, entries: readonly Entry[]): Promise<void> {
    const text = JSON.stringify(entries);
    const path = `${ofGauging(gauging)}${await sha256OfText(text)}`;
    await (await this.#cache).put(path, new Response(text));
  }

  async #paths(): Promise<string[]> {
    return (await (await this.#cache).keys()).map(({ url }) => new URL(url).pathname);
  }

  /** Return the entries of a cache file, null if it is damaged. */
  async #entriesAt(path: string): Promise<readonly Entry[] | null> {
    try {
      const text = await (await (await this.#cache).match(path))!.text();
      if ((await sha256OfText(text)) !== path.slice(path.lastIndexOf("/") + 1)) return null;
      const found = JSON.parse(text) as unknown[];
      return found.every((entry) => entryFault(entry) === null) ? (found as Entry[]) : null;
    } catch {
      return null;
    }
  }
}

/** Return the second copy of a database; null in a browser that has no caches. */
export function secondCopyOf(name: string): SecondCopy | null {
  return "caches" in globalThis ? new SecondCopy(name) : null;
}

function ofGauging(gauging: string): string {
  return `${ENTRIES}${encodeURIComponent(gauging)}/`;
}

/** Return the paths of entries by the gauging in them. */
function byFolder(paths: readonly string[]): ReadonlyMap<string, readonly string[]> {
  const folders = new Map<string, string[]>();
  for (const path of paths) {
    if (!path.startsWith(ENTRIES)) continue;
    const folder = path.slice(ENTRIES.length, path.lastIndexOf("/"));
    const there = folders.get(folder);
    if (there) there.push(path);
    else folders.set(folder, [path]);
  }
  return folders;
}
