/** A bank at which somebody reads: the reading of a gauging on a device that the test may stop. */

import type { Entry, Value } from "../journal/entry.ts";
import type { Store } from "../journal/store_contract.ts";
import { USUAL_SETTINGS, type Settings } from "../page/app_context.svelte.ts";
import type { Engine } from "../page/engine_contract.ts";
import { OpenGauging, type Saying } from "../page/gauging.svelte.ts";
import { Reading } from "../page/reading/reading.svelte.ts";
import type { Key } from "../page/reading/typed.ts";
import { whatOf } from "../page/section.ts";
import { entriesOf } from "./entries.ts";

export const POSITIONS = ["4.0", "5.0", "6.0"];

/** What rods are set to by the rule set of these tests: two points from 2.5 on. */
function rod(depth: string) {
  const points = Number(depth) < 2.5 ? [[0.6, 1]] : [[0.2, 2], [0.8, 0.5]];
  return points.map(([fraction, times]) => ({ fraction, setting: (Number(depth) * times!).toFixed(2), words: "" }));
}

/** Somebody who reads a gauging, with a device and an engine that the test may stop. */
export class Bank {
  readonly drafts = new Map<string, Value | undefined>();
  readonly appended: Entry[] = [];
  /** Whether the device keeps what is appended; else appends never end. */
  keeps = true;
  engineUp = true;
  settings: Settings = { ...USUAL_SETTINGS };
  elsewhere = false;
  finished = 0;
  gauging: OpenGauging;
  reading: Reading;
  #presses = 0;

  constructor(sayings: readonly Saying[] = [], settings: Partial<Settings> = {}) {
    this.settings = { ...this.settings, ...settings };
    this.gauging = this.#gauging();
    this.reading = this.#reading();
    void this.gauging.sayAll([
      { what: "units/length", value: "ft" },
      { what: "units/velocity", value: "ft/s" },
      { what: "started", value: "2026-07-14T10:00:00.000-07:00" },
      { what: "wading/w1", value: { safe: true, by: "I. Marrow" } },
      ...edge("ve", "3.0", "left"),
      { what: "plan", value: { positions: POSITIONS } },
      ...sayings,
    ]);
  }

  /** Press keys one after the other; ⏎ is the big key, < deletes. */
  async keys(keys: string): Promise<void> {
    for (const key of keys) {
      if (key === "⏎") this.reading.enter();
      else this.reading.press((key === "<" ? "back" : key) as Key);
      this.reading.wantRod();
      this.reading.followReceived();
      this.reading.keepDraft();
      await turn();
      // The page does it at every change: now that what was said is on the device.
      this.reading.keepDraft();
    }
  }

  /** The page is loaded anew: what the device keeps is all there is. */
  async reload(): Promise<void> {
    await turn();
    this.gauging = this.#gauging(this.appended);
    this.reading = this.#reading();
    await this.reading.readDraft();
    this.reading.wantRod();
    await turn();
  }

  /** Entries come from another device; the page looks at them. */
  async receive(said: Readonly<Record<string, Value>>): Promise<void> {
    this.reading.followReceived();
    const from = this.gauging.entries.length + 1;
    const entries = entriesOf(said, "tablet", from).map((entry) => ({ ...entry, gauging: "alder-fork-1" }));
    this.gauging.receive(entries);
    this.appended.push(...entries);
    this.reading.followReceived();
    this.reading.keepDraft();
    await turn();
  }

  /** What the last entries say, without the path of the channel. */
  said(count: number): [string, Value][] {
    return this.gauging.entries
      .slice(-count)
      .map(({ what, value }) => [what.split("/").slice(4, 5).join("/") || what, value]);
  }

  get asked(): string {
    const { asked, tape } = this.reading.present;
    const point = asked.ask === "velocity" ? ` at ${asked.fraction}` : "";
    return `${asked.ask}${point}${tape === null ? "" : `, ${tape}`}`;
  }

  #store(): Store {
    return {
      device: "phone",
      append: (entries: readonly Entry[]) => {
        if (!this.keeps) return new Promise(() => undefined);
        this.appended.push(...entries);
        return Promise.resolve(entries.length);
      },
      draft: async (gauging: string) => this.drafts.get(gauging),
      setDraft: async (gauging: string, draft: Value | undefined) => void this.drafts.set(gauging, draft),
    } as unknown as Store;
  }

  #engine(): Engine {
    return {
      state: "ready",
      ask: async (request: { ask: string; depth?: string }) => {
        if (!this.engineUp || request.ask !== "rod") throw new Error("off");
        return { ok: true, points: rod(request.depth!) };
      },
    } as unknown as Engine;
  }

  #gauging(entries: readonly Entry[] = []): OpenGauging {
    const bank = this;
    const around = {
      store: this.#store(),
      engine: this.#engine(),
      // Every press has its own moment.
      now: () => new Date(Date.UTC(2026, 6, 14, 17, 0, 0, ++this.#presses)),
      get elsewhere() {
        return bank.elsewhere;
      },
    };
    return new OpenGauging("alder-fork-1", around, entries);
  }

  #reading(): Reading {
    return new Reading({
      gauging: this.gauging,
      engine: this.#engine(),
      store: this.#store(),
      settings: () => this.settings,
      finished: () => (this.finished += 1),
    });
  }
}

export function edge(key: string, tape: string, side: "left" | "right"): Saying[] {
  const parts = { tape, edge: side, bank: "sloping", depth: "0" };
  return Object.entries(parts).map(([part, value]) => ({ what: whatOf("1", key, part), value }));
}

export const turn = () => new Promise((resolve) => setImmediate(resolve));
