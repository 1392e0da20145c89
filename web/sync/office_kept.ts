/** What a device remembers of its office, kept with its settings. */

import { isObject } from "../journal/entry_check.ts";
import type { Store } from "../journal/store_contract.ts";
import type { You } from "./contract.ts";

const SETTING = "office";

export const DIFFERS =
  "The office holds another content for an entry of this device: both are kept, and somebody has to say which one is right.";

/** An entry or photo that the server does not take as it is, and why. */
export interface Stuck {
  readonly gauging: string;
  readonly said: string;
}

export interface LastSync {
  readonly at: string;
  readonly sent: number;
  readonly received: number;
}

export interface OfficeKept {
  readonly token: string;
  readonly archive: string;
  readonly you: You;
  /** Which history of the archive this is about: another one holds what it holds. */
  readonly lineage: string;
  /** The arrival number to pull from; moved only once what came before it is on the device. */
  readonly after: number;
  /** The gaugings that were ever here: one that is not any more was removed by somebody. */
  readonly seen: readonly string[];
  /** By the id of the entry, or by the checksum of the photo. */
  readonly stuck: { readonly [id: string]: Stuck };
  /** Whether the server has said that it does not know this device any more. */
  readonly revoked: boolean;
  readonly last: LastSync | null;
}

/** Return what is remembered, null where this device is not paired. */
export async function officeKept(store: Store): Promise<OfficeKept | null> {
  const kept = await store.setting(SETTING);
  return isObject(kept) ? (kept as unknown as OfficeKept) : null;
}

export function keepOffice(store: Store, kept: OfficeKept | null): Promise<void> {
  return store.setSetting(SETTING, kept);
}

/** Return what is remembered at first: nothing is known to be on the server. */
export function newOffice(
  about: Pick<OfficeKept, "token" | "archive" | "you" | "lineage" | "after">,
): OfficeKept {
  const { token, archive, you, lineage, after } = about;
  return { token, archive, you, lineage, after, seen: [], stuck: {}, revoked: false, last: null };
}
