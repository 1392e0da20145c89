/** One request to the server of an office: what comes back is its answer or SyncTrouble. */

import { isObject } from "../journal/entry_check.ts";
import { NOT_SIGNED_IN, OTHER_ANSWER, SyncTrouble, UNREACHABLE } from "./trouble.ts";

export type Json = Readonly<Record<string, unknown>>;
export type Fetch = (address: string, options: RequestInit) => Promise<Response>;

export interface Asked {
  readonly method: "GET" | "POST" | "PUT";
  /** Below `api/1/`. */
  readonly path: string;
  readonly token?: string | null;
  readonly headers?: Readonly<Record<string, string>>;
  readonly json?: unknown;
  readonly bytes?: { readonly type: string; readonly content: ArrayBuffer };
}

/** Milliseconds for an answer, and for each byte that is sent: 4 kB in a second. Ours, no source. */
const PATIENCE = 30_000;
const PER_BYTE = 1000 / 4000;

/**
 * Ask, and return the answer whatever its status; `read` is how its body is read, within the same
 * time. SyncTrouble "unreachable" where none comes.
 */
export async function ask<T>(
  fetched: Fetch,
  { method, path, token, headers = {}, json, bytes }: Asked,
  read: (response: Response) => Promise<T>,
): Promise<T> {
  const body = bytes?.content ?? (json === undefined ? undefined : JSON.stringify(json));
  const size = typeof body === "string" ? body.length : (body?.byteLength ?? 0);
  const type = bytes?.type ?? "application/json";
  try {
    const response = await fetched(`api/1/${path}`, {
      method,
      // A page that asks for a sign-in sends elsewhere; it is no server of an office.
      redirect: "error",
      cache: "no-store",
      signal: AbortSignal.timeout(PATIENCE + Math.round(size * PER_BYTE)),
      headers: {
        Accept: "application/json",
        ...(token ? { Authorization: `Bearer ${token}` } : {}),
        ...(body === undefined ? {} : { "Content-Type": type }),
        ...headers,
      },
      ...(body === undefined ? {} : { body }),
    });
    return await read(response);
  } catch (error) {
    if (error instanceof SyncTrouble) throw error;
    throw UNREACHABLE(error);
  }
}

/** Return the object of an answer that went well; SyncTrouble with what the server said if not. */
export async function objectOf(response: Response): Promise<Json> {
  const found = await anyOf(response);
  if (!response.ok) throw refusalOf(response.status, found);
  if (found === null) throw OTHER_ANSWER();
  return found;
}

/** Return the object of an answer, null where it holds none. */
export async function anyOf(response: Response): Promise<Json | null> {
  // Read to the end first: what breaks off is no answer at all.
  return parsed(await response.text());
}

export function parsed(text: string): Json | null {
  try {
    const found: unknown = JSON.parse(text);
    return isObject(found) ? found : null;
  } catch {
    return null;
  }
}

/** Return what an answer that went wrong says. */
export function refusalOf(status: number, found: Json | null): SyncTrouble {
  if (status === 401) return NOT_SIGNED_IN();
  const error = found?.["error"];
  const said = isObject(error) && typeof error["said"] === "string" ? error["said"] : null;
  if (status === 429 && said !== null) return new SyncTrouble("server", said, status);
  if (status >= 500 || status === 429 || status === 408) {
    const words = `The office's server has a trouble of its own (${said ?? `status ${status}`}).`;
    return new SyncTrouble("server", words, status);
  }
  return said === null ? OTHER_ANSWER() : new SyncTrouble("refused", said, status);
}
