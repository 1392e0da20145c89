/** Whether the server that this page came from keeps an office's archive, so that there is a desk. */

/** Where the server answers, beside the page. */
export function officeAddress(path = ""): string {
  return new URL(`api/1/${path}`, document.baseURI).href;
}

export class OfficeHere {
  /** The name of the archive; null where there is none, or it is not known. */
  archive: string | null = $state(null);
  readonly #fetch: (address: string) => Promise<Response>;

  constructor(fetched: (address: string) => Promise<Response>) {
    this.#fetch = fetched;
  }

  /** Ask the server; where nothing answers there is no office, and nothing is said of it. */
  async look(): Promise<void> {
    if (!navigator.onLine) return;
    try {
      const response = await this.#fetch(officeAddress("about"));
      const type = response.headers.get("Content-Type") ?? "";
      if (!response.ok || !type.startsWith("application/json")) return;
      const about: unknown = await response.json();
      const { archive } = (about ?? {}) as { archive?: unknown };
      this.archive = typeof archive === "string" ? archive : null;
    } catch {
      // Without a network the page is for the stream.
    }
  }
}
