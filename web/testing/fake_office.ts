/** The server of an office for tests, in memory: it answers as docs/server.md says. */

import { createHash } from "node:crypto";

import { contentOf, type Entry } from "../journal/entry.ts";

export interface Request {
  readonly method: string;
  readonly path: string;
  readonly token: string | null;
  readonly json: Record<string, unknown>;
  readonly bytes: ArrayBuffer | null;
  readonly etag: string | null;
}

export class FakeOffice {
  /** In the order of their arrival: the first one has the number 1. */
  arrived: Entry[] = [];
  readonly files = new Map<string, { type: string; bytes: ArrayBuffer }>();
  /** What was pushed under an id that the archive holds with another content. */
  readonly beside: Entry[] = [];
  /** The role by token. */
  readonly tokens = new Map<string, string>();
  readonly codes = new Set<string>();
  readonly asked: Request[] = [];
  /** Why an entry is refused, by what it is about. */
  readonly refuses = new Map<string, string>();
  signIn = true;
  archive: string | null = "season";
  lineage = "line-1";
  field: Record<string, unknown> = { surveys: [], sites: [], rule_sets: [] };
  #tokens = 0;

  /** Answer a request as the browser's fetch brings it. */
  readonly fetch = async (address: string, options: RequestInit): Promise<Response> => {
    const headers = new Headers(options.headers);
    const { body } = options;
    const request: Request = {
      method: options.method ?? "GET",
      path: address.replace(/^api\/1\//, ""),
      token: headers.get("Authorization")?.replace("Bearer ", "") ?? null,
      json: typeof body === "string" ? (JSON.parse(body) as Record<string, unknown>) : {},
      bytes: body instanceof ArrayBuffer ? body : null,
      etag: headers.get("If-None-Match"),
    };
    this.asked.push(request);
    return this.answer(request, headers.get("Content-Type") ?? "");
  };

  answer(request: Request, type: string): Response {
    const { method, path, token, json } = request;
    if (path === "about") {
      const { archive, lineage, signIn } = this;
      return said({ version: "1", archive, lineage, sign_in: signIn, you: null });
    }
    if (path === "pair") return this.#pair(String(json["code"]), String(json["name"]));
    if (this.signIn && !this.tokens.has(token ?? "")) return refusal(401, "Nobody is signed in.");
    if (path === "devices/code") {
      this.codes.add("MADE");
      return said({ code: "MADE", until: "2026-07-14T10:30:00Z" });
    }
    if (path === "sign-out") {
      this.tokens.delete(token ?? "");
      return said({});
    }
    if (path === "entries") return said(this.#push(json["entries"] as Entry[]));
    if (path === "pull") return this.#pull(json["after"] as number, json["most"] as number);
    if (path === "files/missing") {
      const asked = json["files"] as string[];
      return said({ missing: asked.filter((sha256) => !this.files.has(sha256)) });
    }
    if (method === "PUT") return this.#putFile(path.slice("files/".length), request.bytes!, type);
    if (path === "field") return this.#field(request.etag);
    const gauging = /^gaugings\/([^/]+)\/journal$/.exec(path)?.[1];
    return gauging === undefined ? refusal(404, "There is nothing here.") : this.#journal(gauging);
  }

  /** Return the entries of a gauging. */
  entries(gauging: string): Entry[] {
    return this.arrived.filter((entry) => entry.gauging === gauging);
  }

  #pair(code: string, name: string): Response {
    if (!this.codes.delete(code)) return refusal(422, `The code ${code} is not valid any more.`);
    const token = `token-${++this.#tokens}`;
    this.tokens.set(token, "crew");
    const { lineage } = this;
    return said({ token, you: { name, role: "crew" }, lineage, after: this.arrived.length });
  }

  #push(entries: readonly Entry[]): Record<string, unknown> {
    const [added, known, differing]: [string[], string[], string[]] = [[], [], []];
    const refused: object[] = [];
    entries.forEach((entry, index) => {
      const there = this.arrived.find(({ id }) => id === entry.id);
      const why = this.refuses.get(entry.what);
      if (entry.what === "review") refused.push({ id: entry.id, index, said: "A crew does not review." });
      else if (there !== undefined && contentOf(there) === contentOf(entry)) known.push(entry.id);
      else if (there !== undefined) {
        differing.push(entry.id);
        this.beside.push(entry);
      } else if (why !== undefined) refused.push({ id: entry.id, index, said: why });
      else {
        added.push(entry.id);
        this.arrived.push(entry);
      }
    });
    return { added, known, differing, refused, lineage: this.lineage };
  }

  #pull(after: number, most: number): Response {
    if (after > this.arrived.length) return refusal(409, "No such arrival was given out.");
    const entries = this.arrived.slice(after, after + most);
    const to = Math.min(after + entries.length, this.arrived.length);
    const { lineage } = this;
    return said({ entries, after: to, more: to < this.arrived.length, lineage });
  }

  #journal(gauging: string): Response {
    const entries = this.entries(gauging);
    if (entries.length === 0) return refusal(404, "There is no such gauging.");
    return said({ format: "bankside.journal/1", gauging, entries });
  }

  #putFile(sha256: string, bytes: ArrayBuffer, type: string): Response {
    const found = createHash("sha256").update(new Uint8Array(bytes)).digest("hex");
    if (found !== sha256) return refusal(422, "The file has other bytes than its name says.");
    this.files.set(sha256, { type, bytes });
    return said({ sha256 });
  }

  #field(etag: string | null): Response {
    const text = JSON.stringify(this.field);
    const own = `"${createHash("sha256").update(text).digest("hex")}"`;
    if (etag === own) return new Response(null, { status: 304 });
    return new Response(text, { headers: { ETag: own } });
  }
}

function said(json: object): Response {
  return new Response(JSON.stringify(json), { headers: { "Content-Type": "application/json" } });
}

function refusal(status: number, words: string): Response {
  const text = JSON.stringify({ error: { status, said: words, faults: [] } });
  return new Response(text, { status });
}
