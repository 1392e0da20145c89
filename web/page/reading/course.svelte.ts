/**
 * The course of the reading: in which channel and at which vertical the crew is, and what is asked
 * there. It follows from the entries and from what the recorder chose.
 */

import type { Settings } from "../app_context.svelte.ts";
import type { Engine } from "../engine_contract.ts";
import type { OpenGauging } from "../gauging.svelte.ts";
import { channelsOf, type ChannelSaid, type Edge, type VerticalSaid } from "../section.ts";
import { unitsCalled } from "../units.ts";
import type { RodPoint } from "../view.ts";
import { lastDecision } from "../wading.ts";
import { callingOf, halted, type Halt, type Units } from "./calling.ts";
import { growsFromStart, presentOf, toCome, type Chosen, type Known } from "./next.ts";
import { Points } from "./points.svelte.ts";
import { callsOut } from "./questions.ts";
import { pickedChannel, plannedOf, touchedVertical } from "./said_so_far.ts";

const USUAL_EXPOSURE_S = 40;

export class Course {
  readonly gauging: OpenGauging;
  readonly points: Points;

  chosen: Chosen | null = $state.raw(null);
  /** The channel that the recorder went to; null for that of which something was said last. */
  protected channelChosen: string | null = $state(null);
  /** Verticals that were left without all that is asked there. */
  protected left: readonly string[] = $state.raw([]);

  readonly channels: readonly ChannelSaid[] = $derived.by(() => channelsOf(this.gauging.folded));
  readonly channelKey: string = $derived.by(
    () => this.channelChosen ?? pickedChannel(this.gauging.entries),
  );
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
  /** Whether the tape's numbers grow on the way from the start bank. */
  readonly growing: boolean = $derived.by(() => {
    const zero = this.gauging.text("zero_bank");
    const known = zero === "left" || zero === "right" ? zero : null;
    return growsFromStart(this.planned, this.channel, this.start, known);
  });
  readonly #known: Known = $derived.by(() => ({
    channel: this.channel,
    planned: this.planned,
    start: this.start,
    growing: this.growing,
    chosen: this.chosen,
    left: new Set(this.left),
    points: (vertical) => this.points.of(vertical),
  }));
  readonly present = $derived(presentOf(this.#known));
  readonly toCome: readonly string[] = $derived(toCome(this.#known));
  /** The vertical of which something was said last. */
  readonly touched: VerticalSaid | null = $derived.by(() =>
    touchedVertical(this.gauging.entries, this.channel),
  );

  readonly units: Units = $derived.by(() => {
    const { length, depth, velocity } = unitsCalled(this.gauging.folded);
    return { tape: length, depth, velocity };
  });
  /** The rod for the point that is due; null while nobody says. */
  readonly rodPoint: RodPoint | null = $derived.by(() => {
    const { asked, vertical } = this.present;
    if (asked.ask !== "velocity" || !vertical) return null;
    return this.points.rodOf(vertical)?.find(({ fraction }) => fraction === asked.fraction) ?? null;
  });
  /**
   * Why nobody is to be sent on: a finding calls the crew out, or it was decided to stay out, or how
   * deep or strong the water is where the crew stands is for the leader to judge, or nobody decided
   * to wade; null where not.
   */
  readonly halt: Halt | null = $derived.by(() => {
    const open = (this.gauging.view?.findings ?? []).filter((finding) => finding.open);
    const decision = lastDecision(this.gauging.folded);
    if (decision?.safe === false || open.some(callsOut)) return "Come out of the water";
    const here = [this.present.vertical?.key, this.touched?.key];
    const doubted = open.some(
      ({ leader_decides, verticals }) => leader_decides && verticals.some((key) => here.includes(key)),
    );
    if (doubted) return "Let the leader decide";
    // The tape at an edge is read from the bank.
    const sends = this.present.asked.ask !== "tape" && !this.gauging.readOnly;
    return decision === null && sends ? "Safe to wade? Not decided" : null;
  });
  readonly calling = $derived.by(() => {
    const due = callingOf(this.present, this.rodPoint, this.units);
    return this.halt === null || this.present.asked.ask === "nothing" ? due : halted(due, this.halt);
  });
  readonly exposure: number = $derived.by(() => this.gauging.view?.exposure_s ?? USUAL_EXPOSURE_S);

  constructor(gauging: OpenGauging, engine: Engine, settings: () => Settings) {
    this.gauging = gauging;
    this.points = new Points({
      gauging,
      engine,
      settings,
      depthUnit: () => gauging.text("units/depth") ?? gauging.text("units/length"),
    });
  }

  /** Go on from a vertical though not all that is asked there was read. */
  leave(vertical: string): void {
    if (!this.left.includes(vertical)) this.left = [...this.left, vertical];
  }

  /** Ask a vertical again for all that its depth asks for. */
  resume(vertical: string): void {
    this.left = this.left.filter((key) => key !== vertical);
  }
}
