/** The requests of a device to the server of its office; every failure is SyncTrouble. */

import type { Entry } from "../journal/entry.ts";
import { ImportFault, readJournal } from "../journal/import.ts";
import type { StoredFile } from "../journal/store_contract.ts";
import { aboutOf, fieldOf, pairedOf, pulledOf, pushedOf, textOf, textsOf } from "./answers.ts";
import type { About, Field, Paired, Pulled, Pushed } from "./contract.ts";
import { anyOf, ask, objectOf, parsed, refusalOf, type Asked, type Fetch, type Json } from "./request.ts";
import { SyncTrouble } from "./trouble.ts";

/** What of the server's a device has already, or what came in its place. */
export type TakenAlong = "unchanged" | { readonly etag: string | null; readonly field: Field };

export class Client {
  readonly #fetch: Fetch;
  readonly #token: string | null;

  constructor(fetched: Fetch, token: string | null = null) {
    this.#fetch = fetched;
    this.#token = token;
  }

  /** What serves this page; null where it is a web host that knows of no office. */
  about(): Promise<About | null> {
    return ask(this.#fetch, this.#asked("GET", "about"), async (response) => {
      const found = await anyOf(response);
      if (response.status >= 500) throw refusalOf(response.status, found);
      return response.ok && found !== null ? aboutOf(found) : null;
    });
  }

  async pair(code: string, device: string, name: string): Promise<Paired> {
    return pairedOf(await this.#post("pair", { code, device, name }));
  }

  /** Have a code made, where nobody has to sign in. */
  async newCode(): Promise<string> {
    return textOf(await this.#post("devices/code", {}), "code");
  }

  async signOut(): Promise<void> {
    await this.#post("sign-out", {});
  }

  async push(entries: readonly Entry[]): Promise<Pushed> {
    return pushedOf(await this.#post("entries", { entries }));
  }

  async pull(after: number, held: readonly string[], most: number): Promise<Pulled> {
    return pulledOf(await this.#post("pull", { after, held, most }));
  }

  /** All entries of a gauging that the server has, null where it has none. */
  journal(gauging: string): Promise<readonly Entry[] | null> {
    const asked = this.#asked("GET", `gaugings/${encodeURIComponent(gauging)}/journal`);
    return ask(this.#fetch, asked, async (response) => {
      const text = await response.text();
      if (response.status === 404) return null;
      if (!response.ok) throw refusalOf(response.status, parsed(text));
      try {
        return (await readJournal(text)).entries;
      } catch (error) {
        if (!(error instanceof ImportFault)) throw error;
        throw new SyncTrouble("server", `What the office's server sent cannot be read. ${error.message}`);
      }
    });
  }

  /** Return which of these files the server does not hold. */
  async missing(files: readonly string[]): Promise<readonly string[]> {
    return textsOf(await this.#post("files/missing", { files }), "missing");
  }

  async putFile({ sha256, type, bytes }: StoredFile): Promise<void> {
    const asked = this.#asked("PUT", `files/${sha256}`);
    await ask(this.#fetch, { ...asked, bytes: { type, content: bytes } }, objectOf);
  }

  /** What a device takes along, if it is another than what it has under this tag. */
  field(etag: string | null): Promise<TakenAlong> {
    const headers = etag === null ? {} : { "If-None-Match": etag };
    return ask(this.#fetch, { ...this.#asked("GET", "field"), headers }, async (response) => {
      if (response.status === 304) return "unchanged";
      const field = fieldOf(await objectOf(response));
      return { etag: response.headers.get("ETag"), field };
    });
  }

  #asked(method: Asked["method"], path: string): Asked {
    return { method, path, token: this.#token };
  }

  #post(path: string, json: Json): Promise<Json> {
    return ask(this.#fetch, { ...this.#asked("POST", path), json }, objectOf);
  }
}
