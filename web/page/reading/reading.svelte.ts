/**
 * Reading one vertical after the other: what the recorder has chosen and typed, what is asked now,
 * and what the big key then says in the journal. All else follows from the entries.
 */

import { instant } from "../../journal/entry.ts";
import type { Store } from "../../journal/store_contract.ts";
import { valueAt } from "../../journal/fold.ts";
import type { Settings } from "../app_context.svelte.ts";
import type { Engine } from "../engine_contract.ts";
import { newKey, type OpenGauging, type Saying } from "../gauging.svelte.ts";
import { speak, spoken } from "../speech.ts";
import { unitsCalled } from "../units.ts";
import type { RodPoint } from "../view.ts";
import { callingOf, capital, keyWords, quantityOf, type Quantity, type Units } from "./calling.ts";
import { Countdown } from "./countdown.svelte.ts";
import { draftFrom, kept, type Entering } from "./draft.ts";
import { same } from "./figures.ts";
import { growsFromStart, presentOf, toCome, type Chosen, type Known } from "./next.ts";
import type { Panel } from "./panel.ts";
import { Points } from "./points.svelte.ts";
import { pickedChannel, plannedOf, touchedVertical } from "./said_so_far.ts";
import { corrected, depthCalled, edgeTapeCalled, tapeCalled, velocityCalled, type Call } from "./sayings.ts";
import { channelsOf, type ChannelSaid, type Edge, type VerticalSaid } from "./section.ts";
import { faultOf, figureOf, NOTHING_TYPED, pressed, shown, type Key, type Typed } from "./typed.ts";

/** Where digits fill from the right unless the gauging says otherwise. */
const USUAL_DECIMALS = { tape: 1, depth: 2, velocity: 2 } as const;
const USUAL_EXPOSURE_S = 40;

export interface Around {
  readonly gauging: OpenGauging;
  readonly engine: Engine;
  readonly store: Pick<Store, "device" | "draft" | "setDraft">;
  /** As they are now: read anew at every use. */
  readonly settings: () => Settings;
  /** Called when all is read and the big key is pressed. */
  readonly finished: () => void;
}

export class Reading {
  readonly gauging: OpenGauging;
  readonly device: string;
  readonly countdown = new Countdown();
  readonly points: Points;
  readonly #around: Around;
  #draftRead = false;

  #channel: string | null = $state(null);
  chosen: Chosen | null = $state.raw(null);
  entering: Entering | null = $state.raw(null);
  typed: Typed = $state.raw(NOTHING_TYPED);
  /** Why a figure is corrected, as chosen; "" where nothing was. */
  reason = $state("");
  panel: Panel | null = $state.raw(null);
  #left: readonly string[] = $state.raw([]);
  /** What was said last, or why nothing was, in words. */
  told = $state("");
  /** What a screen reader says: never "saved" before it is. */
  announced = $state("");

  readonly channels: readonly ChannelSaid[] = $derived.by(() => channelsOf(this.gauging.folded));
  readonly channelKey: string = $derived.by(() => this.#channel ?? pickedChannel(this.gauging.entries));
  readonly channel: ChannelSaid = $derived(
    this.channels.find(({ key }) => key === this.channelKey) ?? {
      key: this.channelKey,
      name: null,
      verticals: [],
    },
  );
  /** Only the first channel is planned. */
  readonly planned: readonly string[] = $derived.by(() =>
    this.channelKey === "1" ? plannedOf(this.gauging.folded) : [],
  );
  readonly start: Edge = $derived.by(() =>
    this.gauging.text("start_bank") === "right" ? "right" : "left",
  );
  readonly #known: Known = $derived.by(() => {
    const zero = this.gauging.text("zero_bank");
    return {
      channel: this.channel,
      planned: this.planned,
      start: this.start,
      growing: growsFromStart(
        this.planned,
        this.channel,
        this.start,
        zero === "left" || zero === "right" ? zero : null,
      ),
      chosen: this.chosen,
      left: new Set(this.#left),
      points: (vertical) => this.points.of(vertical),
    };
  });
  readonly present = $derived(presentOf(this.#known));
  readonly toCome: readonly string[] = $derived(toCome(this.#known));
  readonly growing: boolean = $derived(this.#known.growing);
  /** The vertical of which something was said last. */
  readonly touched: VerticalSaid | null = $derived.by(() =>
    touchedVertical(this.gauging.entries, this.channel),
  );
  /** Whether the engine has seen every entry. */
  readonly fresh: boolean = $derived.by(
    () => this.gauging.view !== null && this.gauging.viewOf >= this.gauging.entries.length,
  );

  readonly units: Units = $derived.by(() => {
    const { length, depth, velocity } = unitsCalled(this.gauging.folded);
    return { tape: length, depth, velocity };
  });
  readonly quantity: Quantity | null = $derived.by(() => this.entering?.quantity ?? quantityOf(this.present));
  readonly fixed: number | null = $derived.by(() => {
    if (!this.#around.settings().fixedDecimals) return null;
    if (this.quantity === null || this.quantity === "angle" || this.quantity === "factor") return null;
    const said = valueAt(this.gauging.folded, "decimals") as { [quantity: string]: unknown } | null | undefined;
    const decimals = said?.[this.quantity];
    return typeof decimals === "number" ? decimals : USUAL_DECIMALS[this.quantity];
  });
  readonly shown: string = $derived(shown(this.typed, this.fixed));
  readonly figure: string | null = $derived(figureOf(this.typed, this.fixed));
  readonly fault: string | null = $derived(faultOf(this.typed, this.fixed));
  /** The rod for the point that is due; null while nobody says. */
  readonly rodPoint: RodPoint | null = $derived.by(() => {
    const { asked, vertical } = this.present;
    if (asked.ask !== "velocity" || !vertical) return null;
    return this.points.rodOf(vertical)?.find(({ fraction }) => fraction === asked.fraction) ?? null;
  });
  readonly calling = $derived(callingOf(this.present, this.rodPoint, this.units));
  readonly keyWords: string = $derived.by(() => {
    if (this.entering === null) return keyWords(this.present, this.figure, this.units);
    return this.figure === null
      ? `Type: ${this.entering.label.toLowerCase()}`
      : `${this.entering.label} is ${this.figure}`;
  });
  readonly exposure: number = $derived.by(() => this.gauging.view?.exposure_s ?? USUAL_EXPOSURE_S);

  constructor(around: Around) {
    this.#around = around;
    this.gauging = around.gauging;
    this.device = around.store.device;
    this.points = new Points({
      gauging: around.gauging,
      engine: around.engine,
      settings: around.settings,
      depthUnit: () => this.gauging.text("units/depth") ?? this.gauging.text("units/length"),
    });
  }

  press(key: Key): void {
    if (this.gauging.readOnly || this.quantity === null) return;
    if (key === "-" && (this.quantity === "depth" || this.quantity === "factor")) {
      this.tell(`A ${this.quantity} has no minus.`);
      return;
    }
    const { asked, vertical } = this.present;
    // What is being typed keeps its point, whatever the engine says once it is up.
    if (asked.ask === "velocity" && !asked.sure && vertical) this.points.choose(vertical.key, [asked.fraction]);
    this.typed = pressed(this.typed, key, this.fixed);
  }

  /** Do what the big key says. */
  enter(): void {
    if (this.gauging.readOnly) return;
    const present = this.present;
    const { asked, edge, bank, vertical, tape } = present;
    if (this.entering === null && asked.ask === "nothing") {
      this.#around.finished();
      return;
    }
    const figure = this.figure;
    if (figure === null) {
      this.tell(this.fault ?? `${this.keyWords}.`);
      return;
    }
    this.typed = NOTHING_TYPED;
    const keys = { channel: this.channelKey, newKey };
    if (this.entering !== null) this.#correct(this.entering, figure);
    else if (asked.ask === "depth" && tape !== null) {
      this.chosen = null;
      this.#call(depthCalled({ ...present, tape }, figure, keys), figure);
    } else if (asked.ask === "velocity" && vertical) {
      this.chosen = null;
      this.#call(velocityCalled(vertical, figure, asked.fraction, this.countdown.take(), keys), figure);
      if (this.present.vertical?.key !== vertical.key) this.leave(vertical.key);
    } else if (asked.ask === "tape" && edge !== null && bank !== null) {
      this.chosen = bank === "sloping" ? null : { go: "edge", edge, bank, tape: figure };
      this.#call(edgeTapeCalled({ edge, bank, vertical }, figure, keys), figure);
    } else if (asked.ask === "tape") this.#tapeTyped(figure);
  }

  /** Leave what was chosen or is being typed, back to what is due. */
  cancel(): void {
    this.typed = NOTHING_TYPED;
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

  changeChannel(key: string): void {
    this.cancel();
    this.countdown.clear();
    this.#channel = key;
    this.panel = null;
  }

  /** Ask the engine for the rod as soon as there is a depth to ask about; called by an effect. */
  wantRod(): void {
    const { asked, vertical } = this.present;
    const depth = asked.ask === "depth" ? this.figure : asked.ask === "velocity" ? vertical?.depth : null;
    if (depth && this.entering === null) void this.points.want(depth);
  }

  /** Go on from a vertical though not all that is asked there was read. */
  leave(vertical: string): void {
    if (!this.#left.includes(vertical)) this.#left = [...this.#left, vertical];
  }

  /** Ask a vertical again for all that its depth asks for. */
  resume(vertical: string): void {
    this.#left = this.#left.filter((key) => key !== vertical);
  }

  /** Say something, and tell that it was said and whether it is saved. */
  async say(sayings: readonly Saying[], words: string): Promise<void> {
    this.told = capital(words);
    const begins = this.gauging.text("started") === undefined && sayings.some(({ what }) => what.startsWith("channels/"));
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
    const draft = draftFrom(await this.#around.store.draft(this.gauging.id).catch(() => undefined));
    this.#draftRead = true;
    if (draft === null || this.typed.keys !== "" || this.chosen !== null || this.entering !== null) return;
    this.#channel = draft.channel;
    this.chosen = draft.chosen;
    this.entering = draft.entering;
    this.typed = draft.typed;
    this.#left = draft.left;
    this.points.chosen = draft.points;
  }

  /** Keep what is typed and chosen; called by an effect, which it makes look at all of it. */
  keepDraft(): void {
    const draft = kept({
      channel: this.channelKey,
      chosen: this.chosen,
      entering: this.entering,
      typed: this.typed,
      left: this.#left,
      points: this.points.chosen,
    });
    // A draft that cannot be kept is no loss of a reading: the store says by itself if it fails.
    if (this.#draftRead) void this.#around.store.setDraft(this.gauging.id, draft).catch(() => undefined);
  }

  #correct(entering: Entering, figure: string): void {
    const { what, label, was } = entering;
    const reason = was === null ? null : this.reason;
    this.entering = null;
    this.reason = "";
    const words = was === null ? `${label} ${figure}` : `${label} was ${was}, is ${figure}`;
    void this.say([corrected(this.gauging.folded, what, figure, reason)], words);
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
