/**
 * The engine's thread: Python in the browser, asked in JSON text and answering in JSON text. It
 * boots when told where its files are, says each step, and never outlives a fault: whatever is
 * thrown is reported as its death, and the page starts another thread.
 */

import type { loadPyodide, PyodideAPI } from "pyodide";

import type { EnginePlaces, FromEngine, ToEngine } from "./messages.ts";
import { watchDownloads } from "./downloads.ts";

const APART = "/bankside";

let answer: ((text: string) => string) | undefined;
let ended = false;

self.addEventListener("message", ({ data }: MessageEvent<ToEngine>) => {
  if (ended) return;
  if (data.kind === "boot") boot(data.places).catch(die);
  else reply(data.id, data.text);
});

function reply(id: number, text: string): void {
  try {
    say({ kind: "answer", id, text: answer!(text) });
  } catch (error) {
    // bankside.bank raises nothing, so this is Python out of memory, or its end.
    die(error);
  }
}

async function boot({ pyodide, bankside }: EnginePlaces): Promise<void> {
  say({ kind: "step", step: "fetch", bytes: 0 });
  const downloads = watchDownloads({
    onBytes: (bytes) => say({ kind: "step", step: "fetch", bytes }),
    onCompiled: () => say({ kind: "step", step: "start", bytes: 0 }),
  });
  const loader = import(/* @vite-ignore */ `${pyodide}pyodide.mjs`) as Promise<{
    loadPyodide: typeof loadPyodide;
  }>;
  // Without the race a failed download leaves the boot neither done nor failed, for ever.
  const [python, archive] = await Promise.race([
    Promise.all([
      loader.then(({ loadPyodide }) => loadPyodide({ indexURL: pyodide })),
      fetch(bankside).then((response) => response.arrayBuffer()),
    ]),
    downloads.failed,
  ]);
  onFatal(python, die);

  say({ kind: "step", step: "unpack", bytes: 0 });
  python.unpackArchive(archive, "zip", { extractDir: APART });
  python.pyimport("sys").path.insert(0, APART);

  say({ kind: "step", step: "import", bytes: 0 });
  answer = python.pyimport("bankside.bank").answer as (text: string) => string;

  say({ kind: "step", step: "first answer", bytes: 0 });
  say({ kind: "ready", about: answer(JSON.stringify({ ask: "about" })) });
}

/** Pyodide tells of a dead interpreter through a hook that its types do not name. */
function onFatal(python: PyodideAPI, hook: (error: unknown) => void): void {
  (python as unknown as { _api: { on_fatal?: (error: unknown) => void } })._api.on_fatal = hook;
}

function die(error: unknown): void {
  if (ended) return;
  ended = true;
  say({ kind: "died", why: lastLine(error instanceof Error ? error.message : String(error)) });
}

/** The whole of a Python traceback says nothing to the person; its last line says what it was. */
function lastLine(text: string): string {
  return text.trim().split("\n").at(-1)!;
}

function say(message: FromEngine): void {
  self.postMessage(message);
}
