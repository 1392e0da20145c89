/** The app as a whole: where the person is, which gauging is open, how the app is wanted. */

import { untrack } from "svelte";

import type { Entry } from "../journal/entry.ts";
import { PRACTICE_ID } from "../journal/practice_mark.ts";
import type { Store } from "../journal/store_contract.ts";
import type { Field } from "../sync/contract.ts";
import {
  hashOf,
  placeOf,
  STEPS,
  USUAL_SETTINGS,
  type AppContext,
  type Place,
  type Settings,
} from "./app_context.svelte.ts";
import { isOff } from "./clock_doubt.ts";
import { DeviceClock } from "./device_clock.svelte.ts";
import type { Engine } from "./engine_contract.ts";
import type { SiteSaid } from "./field_sites.ts";
import { OpenGauging, type Saying } from "./gauging.svelte.ts";
import { lastVisitOf, type LastVisit } from "./last_visit.ts";
import { OfficeHere } from "./office_here.svelte.ts";
import { createOffline, type Offline } from "./offline.svelte.ts";
import { laterOf, officeVisitOf } from "./office_visit.ts";
import { OneWriter } from "./one_writer.svelte.ts";
import { isPractice, practising } from "./practising.ts";
import { sentence } from "./sentence.ts";
import { createStorageKeeping, type StorageKeeping } from "./storage_keeping.svelte.ts";
import { Sync } from "./sync.svelte.ts";

const SETTINGS = "settings";

interface Held {
  readonly gauging: OpenGauging;
  readonly writer: OneWriter;
}

/** Return the settings kept on the device, the usual ones where none are. */
export async function keptSettings(store: Store): Promise<Partial<Settings>> {
  const kept = await store.setting(SETTINGS);
  return typeof kept === "object" && kept !== null ? kept : {};
}

export class AppState implements AppContext {
  readonly store: Store;
  readonly engine: Engine;
  readonly offline: Offline;
  readonly clock = new DeviceClock();
  readonly office = new OfficeHere(this.clock.fetch);
  readonly storage: StorageKeeping = createStorageKeeping();
  readonly sync: Sync;
  settings: Settings = $state(USUAL_SETTINGS);
  /** Whether a person ever chose: the usual units are nobody's word. */
  settingsChosen: boolean = $state(false);
  place: Place = $state.raw(placeOf(location.hash));
  gauging: OpenGauging | null = $state.raw(null);
  lastVisit: LastVisit | null = $state.raw(null);
  /** Why it could not be looked for, without a full stop; null where it could. */
  lastVisitTrouble: string | null = $state(null);
  /** Why the gauging at this place cannot be shown, in one sentence. */
  missing: string | null = $state(null);
  /** Why the settings are not kept, in one sentence. */
  settingsTrouble: string | null = $state(null);
  /** Open, or left with entries that are not yet saved. */
  #held: readonly Held[] = $state.raw([]);
  /** The gaugings left with entries that are not on the device yet. */
  readonly unsaved: readonly OpenGauging[] = $derived(
    this.#held.map(({ gauging }) => gauging).filter((gauging) => gauging.saving !== "saved"),
  );
  /** Whether this tab may write to the open gauging, and who does if not. */
  readonly writer: OneWriter | null = $derived.by(
    () => this.#held.find(({ gauging }) => gauging === this.gauging)?.writer ?? null,
  );
  /** Resolved when the first place is there, or is known not to be. */
  readonly arrived: Promise<void>;
  #arrivals = 0;
  #recalls = 0;
  /** The gauging that is begun and not yet gone to. */
  #begun: OpenGauging | null = null;
  readonly #leave: (() => void)[] = [];

  constructor(store: Store, engine: Engine, kept: Partial<Settings>) {
    this.store = store;
    this.engine = engine;
    // With a gauging open, or one not yet saved, the page is not loaded anew.
    this.offline = createOffline({
      engine,
      busy: () => this.gauging !== null || this.unsaved.length > 0,
    });
    this.sync = new Sync({
      store,
      fetch: this.clock.fetch,
      saving: () => this.#held.some(({ gauging }) => gauging.saving === "saving"),
      came: (id) => void this.#refresh(id),
    });
    this.settings = { ...USUAL_SETTINGS, ...kept };
    this.settingsChosen = Object.keys(kept).length > 0;
    this.#listen(window, "hashchange", () => void this.#arrive());
    this.#listen(document, "visibilitychange", () => {
      this.#saveAll();
      // Whoever went to set the clock right comes back here.
      if (document.visibilityState === "visible" && isOff(this.clock.ahead)) void this.office.look();
    });
    this.#listen(window, "pagehide", () => this.#saveAll());
    this.#listen(window, "beforeunload", (event) => {
      if (this.unsaved.length > 0) event.preventDefault();
    });
    this.#leave.push(
      store.onChange((id) => void this.#refresh(id)),
      store.onLost(() => {
        for (const { gauging } of this.#held) void gauging.saveAgain();
      }),
    );
    // What was asked while the engine was off was refused.
    this.#leave.push(
      $effect.root(() => {
        $effect(() => {
          if (engine.state === "ready") void untrack(() => this.gauging?.look());
        });
        // Whatever is saved first, the browser is asked to keep it.
        $effect(() => {
          if (this.#held.some(({ gauging }) => gauging.saving === "saving")) {
            untrack(() => void this.storage.askToKeep());
          }
        });
        // What was just closed goes to the office at once.
        let seen: { readonly of: OpenGauging | null; readonly closed: boolean } = { of: null, closed: false };
        $effect(() => {
          const of = this.gauging;
          const closed = of !== null && of.closed && of.saving === "saved";
          if (closed && of === seen.of && !seen.closed) untrack(() => this.sync.wake());
          seen = { of, closed };
        });
        // What was left with entries on their way is let go once they have arrived.
        $effect(() => {
          if (this.#held.some((held) => this.#isDone(held))) untrack(() => this.#letGo());
        });
      }),
    );
    this.arrived = this.#arrive();
  }

  go(place: Place): void {
    location.hash = hashOf(place);
  }

  goInstead(place: Place): void {
    location.replace(hashOf(place));
  }

  async keepSettings(changed: Partial<Settings>): Promise<void> {
    this.settings = { ...this.settings, ...changed };
    this.settingsChosen = true;
    try {
      await this.store.setSetting(SETTINGS, $state.snapshot(this.settings));
      this.settingsTrouble = null;
    } catch (error) {
      this.settingsTrouble = `The settings hold until the app is closed; they could not be kept (${sentence(error)}).`;
    }
  }

  /** Start a gauging with these entries and go to it; they are on the screen even if not saved. */
  async begin(sayings: readonly Saying[], keep?: (id: string) => Promise<void>): Promise<void> {
    const id = `${practising ? PRACTICE_ID : ""}${crypto.randomUUID()}`;
    await keep?.(id);
    this.#begun = this.#hold(id, []);
    await this.#begun.sayAll(sayings);
    this.go({ screen: "gauging", id, step: STEPS[0]!, part: "" });
  }

  /**
   * Look for the last visit to the site named in the open gauging, and lay it beside: the later of
   * that on this device and that of the office, for which the engine must be up.
   */
  async recallLastVisit(said: SiteSaid, field: Field | null): Promise<void> {
    const gauging = this.gauging;
    if (gauging === null) return;
    const recall = ++this.#recalls;
    const isLast = () => this.gauging === gauging && recall === this.#recalls;
    let found: LastVisit | null = null;
    let trouble: string | null = null;
    try {
      found = await lastVisitOf(this.store, said, gauging.id);
    } catch (error) {
      trouble = sentence(error);
    }
    if (!isLast()) return;
    await this.#layBeside(gauging, found, trouble);
    const open = { id: gauging.id, started: startedOf(gauging) };
    // Where the engine is off, or the record is of a form that it does not know, the device's stands.
    const office = await officeVisitOf(field, said, open, this.engine).catch(() => null);
    if (!isLast()) return;
    const later = laterOf(found, office);
    if (later !== found) await this.#layBeside(gauging, later, trouble);
  }

  async #layBeside(gauging: OpenGauging, visit: LastVisit | null, trouble: string | null): Promise<void> {
    this.lastVisit = visit;
    this.lastVisitTrouble = trouble;
    const before = gauging.earlier;
    gauging.earlier = visit?.entries ?? null;
    if (gauging.earlier !== before) await gauging.look();
  }

  async reread(): Promise<void> {
    await Promise.all(this.#held.map(({ gauging }) => this.#refresh(gauging.id)));
  }

  stop(): void {
    this.sync.stop();
    for (const leave of this.#leave) leave();
    for (const { writer } of this.#held) writer.release();
  }

  async #arrive(): Promise<void> {
    // From practice to real gaugings and back the page is another one, with another store.
    if (isPractice(location.hash) !== practising) {
      location.reload();
      return;
    }
    const arrival = ++this.#arrivals;
    const place = placeOf(location.hash);
    if (this.gauging !== null && (place.screen !== "gauging" || place.id !== this.gauging.id)) endTyping();
    this.missing = null;
    if (place.screen !== "gauging") {
      this.gauging = null;
      this.lastVisit = null;
    } else if (this.gauging?.id !== place.id) {
      this.gauging = null;
      this.lastVisit = null;
      const kept = this.#heldOf(place.id) === null ? await this.#read(place.id) : [];
      // Somebody went on meanwhile: a gauging that nobody looks at is not held.
      if (arrival !== this.#arrivals) return;
      if (typeof kept === "string") this.missing = kept;
      else this.gauging = this.#heldOf(place.id) ?? this.#hold(place.id, kept);
    }
    this.#begun = null;
    this.place = place;
    this.#letGo();
  }

  #heldOf(id: string): OpenGauging | null {
    return this.#held.find(({ gauging }) => gauging.id === id)?.gauging ?? null;
  }

  /** The entries of a gauging, or why there are none, in one sentence. */
  async #read(id: string): Promise<readonly Entry[] | string> {
    try {
      const entries = await this.store.entries(id);
      if (entries.length > 0) return entries;
      return "This gauging is not on this device. Import its file from the list of gaugings.";
    } catch (error) {
      return `The gauging could not be read from this device (${sentence(error)}).`;
    }
  }

  #hold(id: string, entries: readonly Entry[]): OpenGauging {
    const writer = new OneWriter(id, () => void this.#refresh(id));
    const gauging = new OpenGauging(
      id,
      {
        store: this.store,
        engine: this.engine,
        now: () => new Date(),
        get elsewhere() {
          return writer.elsewhere;
        },
      },
      entries,
    );
    this.#held = [...this.#held, { gauging, writer }];
    return gauging;
  }

  /** Close what is no longer looked at, unless something of it is not saved. */
  #letGo(): void {
    const done = this.#held.filter((held) => this.#isDone(held));
    if (done.length === 0) return;
    this.#held = this.#held.filter((held) => !done.includes(held));
    for (const { writer } of done) writer.release();
  }

  #isDone({ gauging }: Held): boolean {
    return gauging !== this.gauging && gauging !== this.#begun && gauging.saving === "saved";
  }

  async #refresh(id: string): Promise<void> {
    const gauging = this.#heldOf(id);
    if (gauging === null) return;
    try {
      const stored = await this.store.entries(id);
      gauging.receive(stored);
      // Removed in another tab while it is looked at here: it stays.
      if (stored.length === 0) await gauging.saveAgain();
    } catch {
      // What is on the screen stays; the next save says what is wrong with the store.
    }
  }

  #saveAll(): void {
    for (const gauging of this.unsaved) void gauging.save();
  }

  #listen(target: EventTarget, name: string, listener: (event: Event) => void): void {
    target.addEventListener(name, listener);
    this.#leave.push(() => target.removeEventListener(name, listener));
  }
}

/** Let go of the field in hand, so that what is typed in it is said while its gauging is still open. */
function endTyping(): void {
  if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
}

/** When a gauging started; where that was never said, when its first entry was written. */
function startedOf(gauging: OpenGauging): string {
  return gauging.text("started") ?? gauging.entries[0]?.at ?? "";
}
