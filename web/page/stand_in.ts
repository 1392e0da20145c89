/** Stands in for the store and the engine until their branches are merged; goes with them. */

import type { Entry } from "../journal/entry.ts";
import { fold, textAt, united, valueAt } from "../journal/fold.ts";
import type { GaugingSummary, Store, StoredFile } from "../journal/store_contract.ts";
import type { Engine } from "./engine_contract.ts";

export async function openStore(): Promise<Store> {
  const kept = new Map<string, Entry[]>();
  const files = new Map<string, StoredFile>();
  const settings = new Map<string, unknown>();
  const summary = (id: string, entries: Entry[]): GaugingSummary => {
    const folded = fold(entries);
    return {
      id,
      stream: textAt(folded, "site/stream") ?? "",
      site: textAt(folded, "site/name") ?? "",
      started: textAt(folded, "started"),
      entries: entries.length,
      closed: valueAt(folded, "closed") != null,
      whereabouts: "here only",
    };
  };
  return {
    device: "stand-in",
    append: async (entries) => {
      for (const entry of entries) {
        kept.set(entry.gauging, united(kept.get(entry.gauging) ?? [], [entry]));
      }
    },
    entries: async (id) => kept.get(id) ?? [],
    gaugings: async () => [...kept].map(([id, entries]) => summary(id, entries)),
    putFile: async (_, file) => void files.set(file.sha256, file),
    file: async (sha256) => files.get(sha256),
    markExported: async () => undefined,
    setting: async (name) => settings.get(name),
    setSetting: async (name, value) => void settings.set(name, value),
    onChange: () => () => undefined,
    close: () => undefined,
  };
}

export function startEngine(): Engine {
  return { state: "off", step: "", ask: () => Promise.reject(new Error("no engine yet")) };
}
