/** Asking the office's server. Whatever goes wrong is told in one sentence, and nothing is lost. */

import { officeAddress } from "../../page/office_here.svelte.ts";
import type { Entry } from "../../journal/entry.ts";
import type {
  About,
  Device,
  DeskGauging,
  DeskSite,
  DeskSurvey,
  Looked,
  Pairing,
  Person,
  Pushed,
  Role,
  Row,
  SheetAnswers,
  SiteRecord,
  Surveys,
  Taken,
  Told,
  Verdict,
} from "./answers.ts";
import type { SurveyMap } from "./map.ts";

/** What the server refused, or that it was not reached. */
export class OfficeTrouble extends Error {
  override readonly name = "OfficeTrouble";
  /** Of HTTP; 0 where no answer came. */
  readonly status: number;
  readonly faults: readonly Told[];
  constructor(status: number, message: string, faults: readonly Told[] = []) {
    super(message);
    this.status = status;
    this.faults = faults;
  }
}

/** Where a token is kept: for as long as the tab is open. */
export interface TokenPlace {
  get(): string | null;
  set(token: string | null): void;
}

const KEY = "bankside.token";

export const SESSION: TokenPlace = {
  get: () => sessionStorage.getItem(KEY),
  set: (token) =>
    token === null ? sessionStorage.removeItem(KEY) : sessionStorage.setItem(KEY, token),
};

type Ask = (address: string, options: RequestInit) => Promise<Response>;

/** The most entries that the server takes at once. */
export const MOST_ENTRIES = 1000;

export class Office {
  readonly #tokens: TokenPlace;
  readonly #ask: Ask;
  /** Called where the server no longer knows who asks. */
  onunknown: () => void = () => undefined;

  constructor(tokens: TokenPlace = SESSION, ask: Ask = (address, options) => fetch(address, options)) {
    this.#tokens = tokens;
    this.#ask = ask;
  }

  about(): Promise<About> {
    return this.#get("about");
  }

  async signIn(name: string, password: string): Promise<void> {
    const { token } = await this.#post<{ token: string }>("sign-in", { name, password });
    this.#tokens.set(token);
  }

  /** Forget the token here even where the server cannot be told. */
  async signOut(): Promise<void> {
    try {
      await this.#post("sign-out", {});
    } finally {
      this.#tokens.set(null);
    }
  }

  surveys(): Promise<Surveys> {
    return this.#get("surveys");
  }

  survey(id: string): Promise<DeskSurvey> {
    return this.#get(`surveys/${encodeURIComponent(id)}`);
  }

  surveyMap(id: string): Promise<SurveyMap> {
    return this.#get(`surveys/${encodeURIComponent(id)}/map`);
  }

  /** units: those in which visits are held together. */
  site(id: string, units: "ft" | "m"): Promise<DeskSite> {
    return this.#get(`sites/${encodeURIComponent(id)}?units=${units}`);
  }

  gauging(id: string): Promise<DeskGauging> {
    return this.#get(`gaugings/${encodeURIComponent(id)}`);
  }

  async search(text: string): Promise<readonly Row[]> {
    return (await this.#get<{ rows: Row[] }>(`search?text=${encodeURIComponent(text)}`)).rows;
  }

  /** Return all sites of all surveys, each once. */
  async sites(): Promise<readonly { readonly id: string; readonly words: string }[]> {
    const { surveys } = await this.#get<{ surveys: readonly { sites?: readonly SiteRecord[] }[] }>("field");
    const sites = surveys.flatMap((survey) => survey.sites ?? []);
    const words = new Map(sites.map(({ id, stream, name }) => [id, `${stream}, ${name} (${id})`]));
    return [...words].map(([id, called]) => ({ id, words: called }));
  }

  async withoutSite(): Promise<readonly Row[]> {
    return (await this.#get<{ rows: Row[] }>("without-site")).rows;
  }

  review(id: string, verdict: Verdict): Promise<{ row: Row }> {
    return this.#post(`gaugings/${encodeURIComponent(id)}/review`, verdict);
  }

  /** Push entries; what is refused or differs is thrown as OfficeTrouble, the rest is kept. */
  async push(entries: readonly Entry[]): Promise<void> {
    const said: string[] = [];
    for (let at = 0; at < entries.length; at += MOST_ENTRIES) {
      const part = entries.slice(at, at + MOST_ENTRIES);
      const pushed = await this.#post<Pushed>("entries", { entries: part });
      said.push(...pushed.refused.map((one) => one.said));
      said.push(
        ...pushed.differing.map((id) => `The office has other words under the id ${id}; both are kept.`),
      );
    }
    if (said.length > 0) throw new OfficeTrouble(422, said.join(" "));
  }

  async putFile(sha256: string, type: string, bytes: ArrayBuffer): Promise<void> {
    await this.#send("PUT", `files/${sha256}`, new Blob([bytes], { type }), type);
  }

  /** Return what stands at a path as bytes with their type: a photo, a sheet, a report. */
  async bytes(path: string): Promise<Blob> {
    return (await this.#send("GET", path)).blob();
  }

  look(file: File, answers: SheetAnswers): Promise<Looked> {
    return this.#form("sheets/look", file, answers);
  }

  take(file: File, answers: SheetAnswers): Promise<Taken> {
    return this.#form("sheets", file, answers);
  }

  async people(): Promise<readonly Person[]> {
    return (await this.#get<{ people: Person[] }>("people")).people;
  }

  async addPerson(name: string, role: Role, password: string): Promise<void> {
    await this.#post("people", { name, role, password });
  }

  async removePerson(name: string): Promise<void> {
    await this.#send("DELETE", `people/${encodeURIComponent(name)}`);
  }

  async devices(): Promise<readonly Device[]> {
    return (await this.#get<{ devices: Device[] }>("devices")).devices;
  }

  pairing(asked: { readonly name?: string; readonly role?: Role }): Promise<Pairing> {
    return this.#post("devices/code", asked);
  }

  async revoke(id: string): Promise<void> {
    await this.#send("DELETE", `devices/${encodeURIComponent(id)}`);
  }

  async #get<T>(path: string): Promise<T> {
    return (await (await this.#send("GET", path)).json()) as T;
  }

  async #post<T>(path: string, body: unknown): Promise<T> {
    const sent = await this.#send("POST", path, JSON.stringify(body), "application/json");
    return (await sent.json()) as T;
  }

  async #form<T>(path: string, file: File, answers: SheetAnswers): Promise<T> {
    const form = new FormData();
    form.append("answers", JSON.stringify(answers));
    form.append("file", file);
    return (await (await this.#send("POST", path, form)).json()) as T;
  }

  async #send(method: string, path: string, body?: BodyInit, type?: string): Promise<Response> {
    const token = this.#tokens.get();
    const headers = {
      ...(token === null ? {} : { Authorization: `Bearer ${token}` }),
      ...(type === undefined ? {} : { "Content-Type": type }),
    };
    let response: Response;
    try {
      response = await this.#ask(officeAddress(path), { method, headers, ...(body === undefined ? {} : { body }) });
    } catch {
      throw new OfficeTrouble(
        0,
        "The office's server cannot be reached. What you see is as it was when it last answered; try again in a moment.",
      );
    }
    if (response.ok) return response;
    const trouble = await troubleOf(response);
    if (trouble.status === 401 && path !== "sign-in") {
      this.#tokens.set(null);
      this.onunknown();
    }
    throw trouble;
  }
}

async function troubleOf(response: Response): Promise<OfficeTrouble> {
  const { status } = response;
  const body = (await response.json().catch(() => null)) as {
    error?: { said?: string; faults?: Told[] };
  } | null;
  const said = body?.error?.said ?? `The office's server answered with ${status} and no reason.`;
  return new OfficeTrouble(status, said, body?.error?.faults ?? []);
}
