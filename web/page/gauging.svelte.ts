/** The gauging that is open on this page: its entries, what they come to, what the engine says. */

import { canonical, instant, type Entry, type Value } from "../journal/entry.ts";
import { entryFault } from "../journal/entry_check.ts";
import { fold, textAt, united, valueAt, type Folded } from "../journal/fold.ts";
import { StoreTrouble, type Store } from "../journal/store_contract.ts";
import type { Engine } from "./engine_contract.ts";
import { sentence } from "./sentence.ts";
import type { View } from "./view.ts";

export type Saving = "saved" | "saving" | "not saved";

export interface Saying {
  readonly what: string;
  readonly value: Value;
  readonly reason?: string;
  /** Who says it, where it is not the recorder. */
  readonly by?: string;
}

/** What it needs from the device; tests give others. */
export interface Surroundings {
  readonly store: Store;
  readonly engine: Engine;
  readonly now: () => Date;
  /** Whether another tab on this device writes to this gauging; reactive where it may change. */
  readonly elsewhere: boolean;
  /** Who says what is said here, where it is not the recorder: the office, which may correct what is closed. */
  readonly office?: () => string | undefined;
}

export class OpenGauging {
  readonly id: string;
  /** In order, those not yet saved included. */
  entries: readonly Entry[] = $state.raw([]);
  readonly folded: Folded = $derived(fold(this.entries));
  /** What the engine last said, and below about how many entries: it may lag behind. */
  view: View | null = $state.raw(null);
  #viewOf = $state(0);
  /** Whether the engine has seen every entry. */
  readonly fresh: boolean = $derived(this.view !== null && this.#viewOf === this.entries.length);
  /** Why the engine says nothing about the last entries, in one sentence; null where it does. */
  viewTrouble: string | null = $state(null);
  saving: Saving = $state("saved");
  /** Why the last entries are not saved, in one sentence. */
  trouble: string | null = $state(null);
  readonly closed: boolean = $derived(
    valueAt(this.folded, "closed") !== null && valueAt(this.folded, "closed") !== undefined,
  );
  readonly readOnly: boolean = $derived.by(
    () => (this.closed && this.#around.office === undefined) || this.#around.elsewhere,
  );
  /** The last visit to the site, if one was taken along: its entries. */
  earlier: readonly Entry[] | null = $state.raw(null);
  /** How many times entries came that this page had not said. */
  received = $state(0);

  readonly #around: Surroundings;
  #unsaved: readonly Entry[] = [];
  /** The last attempt to save: one follows the other, so that the last to end is the last begun. */
  #saving: Promise<void> = Promise.resolve();
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

  /**
   * Append entries that belong together: all are saved, or none. What stands is not said again. What
   * cannot be an entry is told as not saved, like all that is not on the device.
   */
  async sayAll(sayings: readonly Saying[]): Promise<void> {
    let added: Entry[];
    try {
      added = this.#entriesOf(sayings);
    } catch (error) {
      this.saving = "not saved";
      this.trouble = `What was said last could not be taken in: ${sentence(error)}. Say it again once that is put right, and write it on paper.`;
      return;
    }
    if (added.length === 0) return;
    this.entries = [...this.entries, ...added];
    this.#unsaved = [...this.#unsaved, ...added];
    void this.look();
    await this.save();
  }

  /** Try to make all entries durable; says in `saving` and `trouble` how it went. */
  save(): Promise<void> {
    if (this.#unsaved.length > 0) this.saving = "saving";
    this.#saving = this.#saving.then(() => this.#saveOnce());
    return this.#saving;
  }

  /** Save every entry anew, for when the browser took its storage away; none is kept twice. */
  saveAgain(): Promise<void> {
    // After what is under way: its end says nothing about storage that was taken away since.
    this.#saving = this.#saving.then(() => {
      this.#unsaved = this.entries;
      return this.#saveOnce();
    });
    return this.#saving;
  }

  /** Take in entries that came from another tab, another device or a file. */
  receive(entries: readonly Entry[]): void {
    const known = this.entries.length;
    this.entries = united(this.entries, entries);
    if (this.entries.length > known) this.received += 1;
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
          this.#viewOf = asked;
        }
        this.viewTrouble = reply.ok ? null : reply.faults.map(({ message }) => message).join(" ");
      } while (this.#askAgain);
    } catch {
      // The engine is off for good: entry goes on, and its state says that nothing is computed.
      this.viewTrouble = null;
    } finally {
      this.#asking = false;
    }
  }

  /** Who writes: the crew member who records, or somebody of the office, for the `by` of entries. */
  get recorder(): string | undefined {
    if (this.#around.office !== undefined) return this.#around.office();
    for (const said of this.folded.values()) {
      if (!said.what.startsWith("crew/")) continue;
      // A file from elsewhere may hold anything here.
      const { name, role } = (said.value ?? {}) as { name?: unknown; role?: unknown };
      if (typeof name !== "string" || name.trim() === "" || typeof role !== "string") continue;
      if (role.split(",").some((one) => one.trim() === "recorder")) return name;
    }
    return undefined;
  }

  /** Whether another tab writes to it, so that this one only reads. */
  get elsewhere(): boolean {
    return this.#around.elsewhere;
  }

  text(what: string): string | undefined {
    return textAt(this.folded, what);
  }

  /** Make the entries of what is said, plain JSON; Error where it is nothing that may be said. */
  #entriesOf(sayings: readonly Saying[]): Entry[] {
    const at = instant(this.#around.now());
    const recorder = this.recorder;
    const standing = new Map<string, readonly Entry[]>();
    let sequence = this.entries.at(-1)?.sequence ?? 0;
    const added: Entry[] = [];
    for (const { what, value: said, reason, by = recorder } of sayings) {
      const value = plain(said);
      const heads = standing.get(what) ?? this.folded.get(what)?.heads ?? [];
      if (stands(heads, value)) continue;
      sequence += 1;
      const entry: Entry = {
        id: crypto.randomUUID(),
        gauging: this.id,
        device: this.#around.store.device,
        sequence,
        at,
        what,
        value,
        ...(reason?.trim() ? { reason } : {}),
        ...(by?.trim() ? { by } : {}),
        ...(heads.length === 0 ? {} : { replaces: heads.map((head) => head.id) }),
      };
      const fault = entryFault(entry);
      if (fault !== null) throw new TypeError(`${what} cannot be said: ${fault}`);
      standing.set(what, [entry]);
      added.push(entry);
    }
    return added;
  }

  async #saveOnce(): Promise<void> {
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
    const done = new Set(tried);
    this.#unsaved = this.#unsaved.filter((entry) => !done.has(entry));
    this.trouble = null;
    this.saving = this.#unsaved.length === 0 ? "saved" : "saving";
  }
}

/** Return a value as plain JSON, free of what watches it on the page; TypeError if it is none. */
function plain(value: Value): Value {
  const text = JSON.stringify(value, (name, part: unknown) => {
    if (typeof part !== "number" || Number.isFinite(part)) return part;
    throw new TypeError(`${name} must be a finite number (got ${part})`);
  });
  return JSON.parse(text) as Value;
}

/** Whether a value is said already by the only head, so that saying it again adds nothing. */
function stands(heads: readonly Entry[], value: Value): boolean {
  if (heads.length === 0) return value === null;
  return heads.length === 1 && canonical(heads[0]!.value) === canonical(value);
}

/** A short key for something new in a gauging, such as a vertical: unlike on any other device. */
export function newKey(letter: string): string {
  const bytes = crypto.getRandomValues(new Uint8Array(5));
  return letter + [...bytes].map((byte) => (byte % 36).toString(36)).join("");
}
