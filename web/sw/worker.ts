/**
 * Keeps the app for work without a network, in two steps: what it needs to take readings when it
 * is installed, what it needs to compute when the page asks. It serves these files and nothing
 * else; readings are no business of it.
 */

import type { AppFile, AppFiles } from "../files_contract.ts";
import { KeepTrouble, addressOf, isWhole, keep } from "./keep.ts";
import type { FromKeeper, ToKeeper, Versions } from "./messages.ts";
import { engineCache, ownCaches, shellCache } from "./names.ts";

declare const self: ServiceWorkerGlobalScope & { readonly FILES: AppFiles };

const FILES = self.FILES;
const SHELL = shellCache(FILES.version);
const ENGINE = engineCache(FILES.engine_place.version);
const PAGE = "index.html";
/** What the server of an office answers is never kept, and never stands in for: web/sync/. */
const OFFICE = "api/";
const CACHE_OF = new Map<string, string>([
  ...FILES.shell.map((file) => [addressOf(file), SHELL] as const),
  ...FILES.engine.map((file) => [addressOf(file), ENGINE] as const),
]);

self.addEventListener("install", (event) => {
  event.waitUntil(install());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(activate());
});

self.addEventListener("fetch", (event) => {
  const answer = answerTo(event.request);
  if (answer !== undefined) event.respondWith(answer);
});

self.addEventListener("message", (event) => {
  const asked = event.data as ToKeeper;
  if (asked.kind === "check") event.waitUntil(check());
  else if (asked.kind === "keep all") event.waitUntil(keepAll());
  else if (asked.kind === "take over") event.waitUntil(takeOver());
  else {
    const versions: Versions = { app: FILES.version, engine: FILES.engine_place.version };
    event.ports[0]?.postMessage(versions);
  }
});

/** All or nothing: if a file fails, the version that runs now stays. */
async function install(): Promise<void> {
  try {
    await keepFiles(SHELL, FILES.shell);
  } catch (error) {
    await caches.delete(SHELL);
    throw error;
  }
  // An update takes over by itself when the app was closed, perhaps at the stream: so it comes
  // with all it needs. What it kept of this stays for the next try.
  if (self.registration.active === null) return;
  await keepFiles(ENGINE, FILES.engine);
  // A version that took over meanwhile may have cleared away what was kept first.
  if (!(await allWhole())) throw new KeepTrouble("Files that were kept are gone.");
}

async function activate(): Promise<void> {
  // One that is being fetched has begun to keep its files; it clears away when its turn comes.
  if (self.registration.installing === null) {
    const former = (await ownCaches()).filter((name) => name !== SHELL && name !== ENGINE);
    await Promise.all(former.map((name) => caches.delete(name)));
  }
  await self.clients.claim();
}

/** Our files from the cache; undefined for what is not ours to answer. */
function answerTo(request: Request): Promise<Response> | undefined {
  const { scope } = self.registration;
  if (request.method !== "GET" || !request.url.startsWith(scope)) return undefined;
  const url = new URL(request.url);
  const address = url.origin + url.pathname;
  if (address.startsWith(scope + OFFICE)) return undefined;
  if (request.mode === "navigate") {
    if (address === scope) return kept(scope + PAGE, request);
    if (CACHE_OF.has(address)) return kept(address, request);
    // Any other page is the host's; without a network the app is what is left.
    return fetch(request).catch(() => Response.redirect(scope));
  }
  return CACHE_OF.has(address) ? kept(address, request) : undefined;
}

async function kept(address: string, request: Request): Promise<Response> {
  const cache = await caches.open(CACHE_OF.get(address)!);
  return (await cache.match(address)) ?? fetch(request);
}

async function check(): Promise<void> {
  if (await allWhole()) await tellPages({ kind: "kept", version: FILES.version, mended: 0 });
}

async function allWhole(): Promise<boolean> {
  for (const [name, files] of [[SHELL, FILES.shell], [ENGINE, FILES.engine]] as const) {
    const cache = await caches.open(name);
    for (const file of files) if (!(await isWhole(cache, file))) return false;
  }
  return true;
}

let keeping: Promise<void> | undefined;

/** Keep every file, and tell all tabs how far it is; once at a time, whoever asks. */
function keepAll(): Promise<void> {
  keeping ??= keepAllNow().finally(() => (keeping = undefined));
  return keeping;
}

async function keepAllNow(): Promise<void> {
  try {
    const of = sizeOf([...FILES.shell, ...FILES.engine]);
    const shell = sizeOf(FILES.shell);
    const tell = (done: number) => tellPages({ kind: "keeping", done, of });
    const mended =
      (await keepFiles(SHELL, FILES.shell, tell)) +
      (await keepFiles(ENGINE, FILES.engine, (done) => tell(shell + done)));
    await tellPages({ kind: "kept", version: FILES.version, mended });
  } catch (error) {
    const why = error instanceof KeepTrouble ? error.message : `Something failed (${error}).`;
    await tellPages({ kind: "not kept", why });
  }
}

/** Keep the files one after the other, so that a weak connection brings some of them whole. */
async function keepFiles(
  name: string,
  files: readonly AppFile[],
  tell: (done: number) => Promise<void> = async () => undefined,
): Promise<number> {
  const cache = await caches.open(name);
  let [done, mended] = [0, 0];
  await tell(done);
  for (const file of files) {
    if (await keep(cache, file)) mended += 1;
    done += file.bytes;
    await tell(done);
  }
  return mended;
}

/** Another tab would go on with the former version's page and lose its files. */
async function takeOver(): Promise<void> {
  if ((await pages()).length > 1) await tellPages({ kind: "open elsewhere" });
  else await self.skipWaiting();
}

async function tellPages(message: FromKeeper): Promise<void> {
  for (const page of await pages()) page.postMessage(message);
}

async function pages(): Promise<readonly WindowClient[]> {
  const open = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  return open.filter((page) => page.url.startsWith(self.registration.scope));
}

function sizeOf(files: readonly AppFile[]): number {
  return files.reduce((total, file) => total + file.bytes, 0);
}
