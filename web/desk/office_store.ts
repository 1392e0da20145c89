/** A store whose entries and photos are kept by the office's server. */

import type { Entry } from "../journal/entry.ts";
import { StoreTrouble, type Store, type StoredFile } from "../journal/store_contract.ts";
import { sentence } from "../page/sentence.ts";
import { OfficeTrouble, type Office } from "./asking/office.ts";

/** Return this device's store, but for what is said of gaugings: that the server keeps. */
export function officeStore(local: Store, office: Office): Store {
  return {
    device: local.device,
    restored: local.restored,
    practice: local.practice,
    append: async (entries: readonly Entry[]) => {
      await told(() => office.push(entries));
      return entries.length;
    },
    takeIn: (entries) => local.takeIn(entries),
    takeInWhole: (gauging, entries) => local.takeInWhole(gauging, entries),
    entries: async (gauging) => [...(await told(() => office.gauging(gauging))).entries],
    gaugings: () => local.gaugings(),
    gaugingIds: () => local.gaugingIds(),
    // What is said here is on the server as soon as it is said to be saved.
    unsent: async () => [],
    putFile: ({ sha256, type, bytes }: StoredFile) => told(() => office.putFile(sha256, type, bytes)),
    file: async (sha256) => {
      const blob = await told(() => office.bytes(`files/${sha256}`));
      return { sha256, type: blob.type, bytes: await blob.arrayBuffer() };
    },
    // What the server has has left this device already.
    mark: async () => undefined,
    forgetServer: async () => undefined,
    removeGauging: () => Promise.reject(new StoreTrouble("kept", "The office's archive loses nothing.")),
    draft: (gauging) => local.draft(gauging),
    setDraft: (gauging, draft) => local.setDraft(gauging, draft),
    setting: (name) => local.setting(name),
    setSetting: (name, value) => local.setSetting(name, value),
    onChange: (listener) => local.onChange(listener),
    onWrite: (listener) => local.onWrite(listener),
    onLost: (listener) => local.onLost(listener),
    close: () => undefined,
  };
}

/** What the server could not do, in the terms of a store. */
async function told<T>(act: () => Promise<T>): Promise<T> {
  try {
    return await act();
  } catch (error) {
    const differs = error instanceof OfficeTrouble && error.status === 422;
    throw new StoreTrouble(
      differs ? "differs" : "unknown",
      `${sentence(error)}. It is not in the archive; it stands here until it is.`,
    );
  }
}
