/**
 * Reading one vertical after the other: what the recorder types, and what the big key then says in
 * the journal.
 */

import { instant } from "../../journal/entry.ts";
import { valueAt } from "../../journal/fold.ts";
import type { Store } from "../../journal/store_contract.ts";
import type { Settings } from "../app_context.svelte.ts";
import type { Engine } from "../engine_contract.ts";
import { same } from "../figures.ts";
import { newKey, type OpenGauging, type Saying } from "../gauging.svelte.ts";
import { speak, spoken } from "../speech.ts";
import { capital, keyWords, quantityOf, type Quantity } from "./calling.ts";
import { Countdown } from "./countdown.svelte.ts";
import { Course } from "./course.svelte.ts";
import { draftFrom, kept, type Entering } from "./draft.ts";
import type { Chosen } from "./next.ts";
import type { Panel } from "./panel.ts";
import { lastReading } from "./said_so_far.ts";
import { corrected, depthCalled, edgeTapeCalled, tapeCalled, velocityCalled, type Call } from "./sayings.ts";
import {
  faultOf,
  figureOf,
  NOTHING_TYPED,
  pressed,
  shown,
  typedAs,
  USUAL_DECIMALS,
  type Key,
  type Typed,
} from "./typed.ts";

const SIGNED: readonly Quantity[] = ["tape", "velocity", "angle"];

export interface Around {
  readonly gauging: OpenGauging;
  readonly engine: Engine;
  readonly store: Pick<Store, "device" | "draft" | "setDraft">;
  /** As they are now: read anew at every use. */
  readonly settings: () => Settings;
  /** Called when all is read and the big key is pressed. */
  readonly finished: () => void;
}

export class Reading extends Course {
  readonly device: string;
  readonly countdown = new Countdown();
  readonly #around: Around;
  #draftRead = false;
  /** Whether this tab only reads; null until it is first looked at. */
  #reads: boolean | null = null;
  /** What was asked when it was last looked at, and how many times entries had come by then. */
  #seen: { readonly question: string; readonly received: number } | null = null;

  entering: Entering | null = $state.raw(null);
  typed: Typed = $state.raw(NOTHING_TYPED);
  /** Counts that were called and wait for their seconds. */
  counts: string | null = $state(null);
  /** Whether velocities are called though the meter's rating would work them out from counts. */
  velocityCalled = $state(false);
  /** Why a figure is corrected, as chosen; "" where nothing was. */
  reason = $state("");
  panel: Panel | null = $state.raw(null);
  /** Whether taps and keys say nothing, for rain; never kept, so a page that is loaded anew is open. */
  keysLocked = $state(false);
  /** What was said last, or why nothing was, in words. */
  told = $state("");
  /** What a screen reader says: never "saved" before it is. */
  announced = $state("");

  /** Whether the meter is read by counting, so that its rating works the velocity out. */
  readonly rated: boolean = $derived.by(() => {
    const rating = valueAt(this.gauging.folded, "meter/rating");
    return Array.isArray(rating) && rating.length > 0;
  });
  readonly counting: boolean = $derived.by(() => this.rated && !this.velocityCalled);
  readonly quantity: Quantity | null = $derived.by(() => {
    const asked = this.entering?.quantity ?? quantityOf(this.present);
    if (this.entering !== null || asked !== "velocity" || !this.counting) return asked;
    return this.counts === null ? "counts" : "seconds";
  });
  readonly fixed: number | null = $derived.by(() => {
    const usual = USUAL_DECIMALS[this.quantity ?? ""];
    if (!this.#around.settings().fixedDecimals || usual === undefined) return null;
    const said = valueAt(this.gauging.folded, "decimals") as { [quantity: string]: unknown } | null | undefined;
    const decimals = said?.[this.quantity ?? ""];
    return typeof decimals === "number" ? decimals : usual;
  });
  readonly shown: string = $derived(shown(this.typed, this.fixed));
  readonly figure: string | null = $derived(figureOf(this.typed, this.fixed));
  readonly fault: string | null = $derived(faultOf(this.typed, this.fixed));
  readonly keyWords: string = $derived.by(() => {
    if (this.entering === null) {
      const counting = this.counting ? { counts: this.counts } : null;
      return keyWords(this.present, this.figure, this.units, counting);
    }
    return this.figure === null
      ? `Type: ${this.entering.label.toLowerCase()}`
      : `${this.entering.label} is ${this.figure}`;
  });

  constructor(around: Around) {
    super(around.gauging, around.engine, around.settings);
    this.#around = around;
    this.device = around.store.device;
  }

  press(key: Key): void {
    if (this.gauging.readOnly || this.quantity === null) return;
    if (key === "-" && !SIGNED.includes(this.quantity)) {
      this.tell(`${capital(this.quantity)}: there is no minus.`);
      return;
    }
    // What is being typed keeps its point, whatever the engine says once it is up.
    const { asked, vertical } = this.present;
    if (asked.ask === "velocity" && !asked.sure && vertical) this.points.choose(vertical.key, [asked.fraction]);
    if (key === "back" && this.shown === "" && this.counts !== null) {
      this.typed = typedAs(this.counts);
      this.counts = null;
    } else this.typed = pressed(this.typed, key, this.fixed);
  }

  /** Do what the big key says. */
  enter(): void {
    if (this.gauging.readOnly) return;
    const { present, figure, quantity } = this;
    const place = this.#place;
    const { asked, edge, bank, vertical, tape } = present;
    if (quantity === null) {
      this.#around.finished();
      return;
    }
    if (figure === null) {
      this.tell(this.fault ?? `${this.keyWords}.`);
      return;
    }
    this.typed = NOTHING_TYPED;
    const keys = { channel: this.channelKey, newKey };
    if (this.entering !== null) this.#correct(this.entering, figure);
    else if (quantity === "counts") this.counts = figure;
    else if (asked.ask === "depth" && tape !== null) {
      this.chosen = null;
      this.#call(depthCalled({ ...present, tape }, figure, keys), figure);
    } else if (asked.ask === "velocity" && vertical) {
      this.chosen = null;
      this.countdown.goOnAt(place);
      const counted = this.countdown.take();
      const read =
        this.counts === null
          ? { velocity: figure, seconds: counted === null ? null : String(counted) }
          : { counts: this.counts, seconds: figure };
      this.counts = null;
      // Kept with the draft: after a reload the other points are asked though the engine is not up.
      if (asked.points > 1) this.points.choose(vertical.key, this.points.of(vertical) ?? []);
      this.#call(velocityCalled(vertical, read, asked.fraction, keys), figure);
      if (this.present.vertical?.key !== vertical.key) this.leave(vertical.key);
    } else if (asked.ask === "tape" && edge !== null && bank !== null) {
      this.chosen = bank === "sloping" ? null : { go: "edge", edge, bank, tape: figure };
      this.#call(edgeTapeCalled({ edge, bank, vertical }, figure, keys), figure);
    } else if (asked.ask === "tape") this.#tapeTyped(figure);
  }

  /** Count the exposure down at the vertical where the crew is, from the start again if it runs. */
  count(): void {
    const { sound, vibration } = this.#around.settings();
    this.countdown.start(this.exposure, this.#place, { sound, vibration });
  }

  /** Stop a count-down of a vertical that was left; called by an effect. */
  leaveCount(): void {
    this.countdown.goOnAt(this.#place);
  }

  /** Leave what was chosen or is being typed, back to what is due. */
  cancel(): void {
    this.typed = NOTHING_TYPED;
    this.counts = null;
    this.entering = null;
    this.chosen = null;
    this.reason = "";
  }

  /** Choose where to go or what to read instead of what is due. */
  choose(chosen: Chosen): void {
    this.cancel();
    this.chosen = chosen;
    this.panel = null;
  }

  enterFigure(entering: Entering): void {
    this.cancel();
    this.entering = entering;
    this.panel = null;
  }

  lockKeys(): void {
    this.panel = null;
    this.keysLocked = true;
  }

  changeChannel(key: string): void {
    this.cancel();
    this.countdown.clear();
    this.channelChosen = key;
    this.panel = null;
  }

  /** Ask the engine for the rod as soon as there is a depth to ask about; called by an effect. */
  wantRod(): void {
    const { asked, vertical } = this.present;
    const depth = asked.ask === "depth" ? this.figure : asked.ask === "velocity" ? vertical?.depth : null;
    if (depth && this.entering === null) void this.points.want(depth);
  }

  /** Say something, and tell that it was said and whether it is saved. */
  async say(sayings: readonly Saying[], words: string): Promise<void> {
    this.told = capital(words);
    const begins =
      this.gauging.text("started") === undefined &&
      sayings.some(({ what }) => what.startsWith("channels/"));
    const started = begins ? [{ what: "started", value: instant(new Date()) }] : [];
    await this.gauging.sayAll([...started, ...sayings]);
    const saved = this.gauging.saving === "saved";
    this.announced = `${capital(words)}: ${saved ? "saved on this device" : "not saved yet"}. ${this.calling.aloud}`;
  }

  tell(words: string): void {
    this.told = words.replace(/\.$/, "");
    this.announced = words;
  }

  /** Take up what was typed before a reload, unless something was typed since. */
  async readDraft(): Promise<void> {
    const stored = await this.#around.store.draft(this.gauging.id).catch(() => undefined);
    const draft = draftFrom(stored, this.#lastReading);
    if (this.gauging.readOnly) return;
    this.#draftRead = true;
    if (draft === null || this.typed.keys !== "" || this.chosen !== null || this.entering !== null) return;
    this.channelChosen = draft.channel;
    this.chosen = draft.chosen;
    this.entering = draft.entering;
    this.typed = draft.typed;
    this.counts = draft.counts;
    this.velocityCalled = draft.velocityCalled;
    this.left = draft.left;
    this.points.chosen = draft.points;
  }

  /**
   * A tab that only reads types nothing: what the tab that writes had typed is taken up when this
   * one may write; called by an effect.
   */
  followWriter(): void {
    const { readOnly } = this.gauging;
    const before = this.#reads;
    this.#reads = readOnly;
    if (before === null || before === readOnly) return;
    this.#draftRead = false;
    this.cancel();
    void this.readDraft();
  }

  /**
   * Drop what was typed where entries came from elsewhere that have another figure asked: digits of
   * a depth must not stand typed for a velocity. Called by an effect, before the draft is kept.
   */
  followReceived(): void {
    const before = this.#seen;
    const now = { question: this.#question, received: this.gauging.received };
    this.#seen = now;
    if (before === null || now.received === before.received || now.question === before.question) return;
    const typed = [this.counts && `${this.counts} counts`, this.shown].filter(Boolean).join(", ");
    this.cancel();
    if (typed !== "") this.tell(`${typed} was typed before entries came from elsewhere: see what is asked now.`);
  }

  /**
   * Keep what is typed and chosen; called by an effect, which it makes look at all of it. Not before
   * the entries are on the device: it must never say that a vertical is done when its reading is lost.
   */
  keepDraft(): void {
    const draft = kept({
      after: this.#lastReading,
      channel: this.channelKey,
      chosen: this.chosen,
      entering: this.entering,
      typed: this.typed,
      counts: this.counts,
      velocityCalled: this.velocityCalled,
      left: this.left,
      points: this.points.chosen,
    });
    if (!this.#draftRead || this.gauging.readOnly || this.gauging.saving !== "saved") return;
    // A draft that cannot be kept is no loss of a reading: the store says by itself if it fails.
    void this.#around.store.setDraft(this.gauging.id, draft).catch(() => undefined);
  }

  /** Where the crew is, in which channel too. */
  get #place(): string {
    return `${this.channelKey} ${this.present.tape}`;
  }

  /** What a figure that is typed now would say; what stands there, where it corrects that. */
  get #question(): string {
    const { channelKey, entering, quantity, present } = this;
    if (entering !== null) {
      return JSON.stringify([entering.what, valueAt(this.gauging.folded, entering.what)]);
    }
    const fraction = present.asked.ask === "velocity" ? present.asked.fraction : null;
    return JSON.stringify([channelKey, present.tape, present.edge, quantity, fraction]);
  }

  get #lastReading(): string | null {
    return lastReading(this.gauging.entries)?.id ?? null;
  }

  #correct(entering: Entering, figure: string): void {
    const { what, label, was, member } = entering;
    const reason = was === null ? null : this.reason;
    this.entering = null;
    this.reason = "";
    const words = was === null ? `${label} ${figure}` : `${label} was ${was}, is ${figure}`;
    void this.say([corrected(this.gauging.folded, what, figure, { reason, member })], words);
  }

  #tapeTyped(tape: string): void {
    const there = this.channel.verticals.find((vertical) => same(vertical.tape, tape));
    const inserted = this.present.inserted;
    this.chosen = null;
    if (there) {
      this.panel = { open: "vertical", vertical: there.key };
      this.tell(`${tape} is there already.`);
    } else this.#call(tapeCalled(tape, inserted, { channel: this.channelKey, newKey }), tape);
  }

  #call(call: Call, figure: string): void {
    void this.say(call.sayings, call.words);
    if (this.#around.settings().speak) speak(`${spoken(figure)}. ${this.calling.aloud}`);
  }
}
