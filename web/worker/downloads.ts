/**
 * Watches what the interpreter fetches and compiles. Its loader swallows faults of both and then
 * waits for ever, so they are caught here, where they happen.
 */

export interface DownloadsHeard {
  readonly onBytes: (bytes: number) => void;
  readonly onCompiled: () => void;
}

/** Not more often than this, in milliseconds: each message wakes the page. */
const BETWEEN_REPORTS = 250;

/** Count every download of this thread; `failed` rejects at the first that fails. */
export function watchDownloads({ onBytes, onCompiled }: DownloadsHeard): {
  readonly failed: Promise<never>;
} {
  let fail: (error: unknown) => void;
  const failed = new Promise<never>((_, reject) => (fail = reject));
  // Nobody may be listening any more when a download fails after the boot.
  failed.catch(() => undefined);

  let bytes = 0;
  let reported = 0;
  const plainFetch = self.fetch.bind(self);
  self.fetch = async (input, init) => {
    try {
      const response = await plainFetch(input, init);
      if (!response.ok) throw new Error(`${response.url} was answered with ${response.status}`);
      count(response.clone()).catch(fail);
      return response;
    } catch (error) {
      fail(error);
      throw error;
    }
  };

  async function count(response: Response): Promise<void> {
    for await (const chunk of chunksOf(response)) {
      bytes += chunk.byteLength;
      if (performance.now() - reported < BETWEEN_REPORTS) continue;
      reported = performance.now();
      onBytes(bytes);
    }
  }

  const plainInstantiate = WebAssembly.instantiateStreaming;
  WebAssembly.instantiateStreaming = async (source, imports) => {
    try {
      const made = await plainInstantiate(source, imports);
      onCompiled();
      return made;
    } catch (error) {
      fail(error);
      throw error;
    }
  };

  return { failed };
}

/** Safari cannot loop over a body, so it is read by hand. */
async function* chunksOf(response: Response): AsyncGenerator<Uint8Array> {
  const reader = response.body?.getReader();
  if (reader === undefined) return;
  for (let part = await reader.read(); !part.done; part = await reader.read()) yield part.value;
}
