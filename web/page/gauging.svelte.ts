/** The gauging that is open on this page: its entries, what they come to, what the engine says. */

import { instant, type Entry, type Value } from "../journal/entry.ts";
import { fold, textAt, united, valueAt, type Folded } from "../journal/fold.ts";
import { StoreTrouble, type Store } from "../journal/store_contract.ts";
import type { Engine } from "./engine_contract.ts";
import type { View } from "./view.ts";

export type Saving = "saved" | "saving" | "not saved";

export interface Saying {
  readonly what: string;
  readonly value: Value;
  readonly reason?: string;
}

/** What it needs from the device; tests give others. */
export interface Surroundings {
  readonly store: Store;
  readonly engine: Engine;
  readonly now: () => Date;
  /** Whether another tab on this device writes to this gauging. */
  readonly elsewhere: boolean;
}

export class OpenGauging {
  readonly id: string;
  /** In order, those not yet saved included. */
  entries: readonly Entry[] = $state.raw([]);
  readonly folded: Folded = $derived(fold(this.entries));
  /** What the engine last said, and about how many entries: it may lag behind, and says so. */
  view: View | null = $state.raw(null);
  viewOf = $state(0);
  saving: Saving = $state("saved");
  /** Why the last entries are not saved, in one sentence. */
  trouble: string | null = $state(null);
  readonly closed: boolean = $derived(
    valueAt(this.folded, "closed") !== null && valueAt(this.folded, "closed") !== undefined,
  );
  readonly readOnly: boolean = $derived.by(() => this.closed || this.#around.elsewhere);
  /** The last visit to the site, if one was taken along: its entries. */
  earlier: readonly Entry[] | null = $state.raw(null);

  readonly #around: Surroundings;
  #unsaved: readonly Entry[] = [];
  #asking = false;
  #askAgain = false;

  constructor(id: string, around: Surroundings, entries: readonly Entry[] = []) {
    this.id = id;
    this.#around = around;
    this.entries = united(entries);
    void this.look();
  }

  /** Append one entry; resolves when it is on the device or known not to be. */
  say(what: string, value: Value, reason?: string): Promise<void> {
    return this.sayAll([{ what, value, ...(reason === undefined ? {} : { reason }) }]);
  }

  /** Append entries that belong together: all are saved, or none. What stands is not said again. */
  async sayAll(sayings: readonly Saying[]): Promise<void> {
    const at = instant(this.#around.now());
    const by = this.recorder;
    let sequence = this.entries.at(-1)?.sequence ?? 0;
    const added = sayings
      .filter(({ what, value }) => !this.#stands(what, value))
      .map(({ what, value, reason }): Entry => {
        const heads = this.folded.get(what)?.heads.map((head) => head.id) ?? [];
        sequence += 1;
        return {
          id: crypto.randomUUID(),
          gauging: this.id,
          device: this.#around.store.device,
          sequence,
          at,
          what,
          value,
          ...(reason === undefined ? {} : { reason }),
          ...(by === undefined ? {} : { by }),
          ...(heads.length === 0 ? {} : { replaces: heads }),
        };
      });
    if (added.length === 0) return;
    this.entries = [...this.entries, ...added];
    this.#unsaved = [...this.#unsaved, ...added];
    void this.look();
    await this.save();
  }

  /** Try to make all entries durable; says in `saving` and `trouble` how it went. */
  async save(): Promise<void> {
    const tried = this.#unsaved;
    if (tried.length === 0) return;
    this.saving = "saving";
    try {
      await this.#around.store.append(tried);
    } catch (error) {
      this.saving = "not saved";
      this.trouble =
        error instanceof StoreTrouble
          ? error.message
          : `The readings could not be saved on this device (${String(error)}).`;
      return;
    }
    const done = new Set(tried.map((entry) => entry.id));
    this.#unsaved = this.#unsaved.filter((entry) => !done.has(entry.id));
    if (this.#unsaved.length === 0) {
      this.saving = "saved";
      this.trouble = null;
    }
  }

  /** Take in entries that came from another tab, another device or a file. */
  receive(entries: readonly Entry[]): void {
    this.entries = united(this.entries, entries);
    void this.look();
  }

  /** Ask the engine about the present entries; while one question is out, only the last counts. */
  async look(): Promise<void> {
    if (this.#asking) {
      this.#askAgain = true;
      return;
    }
    this.#asking = true;
    try {
      do {
        this.#askAgain = false;
        const asked = this.entries.length;
        const reply = await this.#around.engine.ask<View>({
          ask: "look",
          entries: this.entries,
          now: instant(this.#around.now()),
          ...(this.earlier === null ? {} : { earlier: this.earlier }),
        });
        if (reply.ok) {
          this.view = reply;
          this.viewOf = asked;
        }
      } while (this.#askAgain);
    } catch {
      // The engine is off for good: entry goes on, and its state says that nothing is computed.
    } finally {
      this.#asking = false;
    }
  }

  /** Who writes: the crew member who records, for the `by` of entries. */
  get recorder(): string | undefined {
    for (const said of this.folded.values()) {
      if (!said.what.startsWith("crew/")) continue;
      const member = said.value as { name?: string; role?: string } | null;
      const roles = member?.role?.split(",").map((role) => role.trim()) ?? [];
      if (roles.includes("recorder") && member?.name) return member.name;
    }
    return undefined;
  }

  text(what: string): string | undefined {
    return textAt(this.folded, what);
  }

  /** Whether the value is said already by the only head, so that saying it again adds nothing. */
  #stands(what: string, value: Value): boolean {
    const said = this.folded.get(what);
    if (said === undefined) return value === null;
    return said.heads.length === 1 && JSON.stringify(said.value) === JSON.stringify(value);
  }
}

/** A short key for something new in a gauging, such as a vertical: unlike on any other device. */
export function newKey(letter: string): string {
  const bytes = crypto.getRandomValues(new Uint8Array(5));
  return letter + [...bytes].map((byte) => (byte % 36).toString(36)).join("");
}
