/**
 * Keeps files in a cache and knows whether they are whole: by reading back what the cache holds
 * and comparing it with the list of the build.
 */

import type { AppFile } from "../files_contract.ts";
import { sha256Of } from "../journal/digest.ts";
import { ownCaches } from "./names.ts";

declare const self: ServiceWorkerGlobalScope;

/** A file that could not be kept; the message is one sentence for people. */
export class KeepTrouble extends Error {
  override readonly name = "KeepTrouble";
}

export function addressOf(file: { readonly path: string }): string {
  return new URL(file.path, self.registration.scope).href;
}

/** Have the file whole in the cache; say whether anything had to be done. KeepTrouble if not. */
export async function keep(cache: Cache, file: AppFile): Promise<boolean> {
  if (await isWhole(cache, file)) return false;
  if ((await copied(cache, file)) && (await isWhole(cache, file))) return true;
  // What the browser has at hand will do if it is right; it may be of another version.
  for (const mode of ["default", "reload"] as const) {
    await put(cache, file, await fetched(file, mode));
    if (await isWhole(cache, file)) return true;
  }
  await cache.delete(addressOf(file));
  throw new KeepTrouble(`${file.path} came with other content than this version has.`);
}

/** Whether the cache holds the file with the bytes and the media type of the list. */
export async function isWhole(cache: Cache, file: AppFile): Promise<boolean> {
  const response = await cache.match(addressOf(file));
  if (response === undefined || typeOf(response) !== file.type) return false;
  const bytes = await response.arrayBuffer();
  return bytes.byteLength === file.bytes && (await sha256Of(bytes)) === file.sha256;
}

/** An app update brings few new files, so most are copied from what the former version kept. */
async function copied(cache: Cache, file: AppFile): Promise<boolean> {
  for (const name of await ownCaches()) {
    const former = await caches.open(name);
    if (!(await isWhole(former, file))) continue;
    await put(cache, file, (await former.match(addressOf(file)))!);
    return true;
  }
  return false;
}

async function fetched(file: AppFile, mode: RequestCache): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(addressOf(file), { cache: mode });
  } catch {
    throw new KeepTrouble(`${file.path} could not be fetched: there is no connection.`);
  }
  if (response.ok && !response.redirected) return response;
  const what = response.redirected ? "another address" : `status ${response.status}`;
  throw new KeepTrouble(`${file.path} could not be fetched: the host answered with ${what}.`);
}

async function put(cache: Cache, file: AppFile, response: Response): Promise<void> {
  // A host that gives a file another media type would keep the browser from running it.
  const right =
    typeOf(response) === file.type
      ? response
      : new Response(response.body, { headers: { "Content-Type": file.type } });
  try {
    await cache.put(addressOf(file), right);
  } catch (error) {
    const full = error instanceof DOMException && error.name === "QuotaExceededError";
    const why = full ? "this device has no room left" : "the download broke off";
    throw new KeepTrouble(`${file.path} could not be kept: ${why}.`);
  }
}

function typeOf(response: Response): string | undefined {
  return response.headers.get("Content-Type")?.split(";", 1)[0]?.trim().toLowerCase();
}
