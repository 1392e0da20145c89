/** What a picture of the section shows: from the entries alone, with the engine's figures if any. */

import type { Folded } from "../../journal/fold.ts";
import { textAt } from "../../journal/fold.ts";
import { alongTape, edgeOf, type ChannelSaid, type Edge } from "../section.ts";
import type { Severity, View } from "../view.ts";

export interface SketchVertical {
  readonly key: string;
  /** Along the tape, in the unit called. */
  readonly tape: number;
  readonly label: string;
  /** null where no depth was read; 0 where it is dry. */
  readonly depth: number | null;
  readonly velocity: number | null;
  /** Percent of the discharge. */
  readonly share: number | null;
  /** The panel's two ends. */
  readonly panel: readonly [number, number] | null;
  readonly edge: Edge | null;
  /** The gravest open question about it. */
  readonly asked: Severity | null;
}

export interface Spot {
  readonly tape: number;
  readonly label: string;
}

export interface SectionSketch {
  readonly lengthUnit: string;
  readonly depthUnit: string;
  readonly velocityUnit: string;
  /** Whether the tape's numbers grow towards the left bank, so that the picture is turned round. */
  readonly mirrored: boolean;
  /** From the tape's zero on. */
  readonly verticals: readonly SketchVertical[];
  readonly toCome: readonly Spot[];
  readonly present: Spot | null;
  /** Shares above which a panel is marked, and above which another vertical is due. */
  readonly limits: View["share_limits"] | null;
  /** Whether the shares are those of all entries. */
  readonly fresh: boolean;
}

export interface Drawn {
  readonly folded: Folded;
  readonly channel: ChannelSaid;
  readonly view: View | null;
  /** Whether the view has seen every entry. */
  readonly fresh: boolean;
  readonly toCome?: readonly string[];
  readonly present?: string | null;
}

const GRAVE: readonly Severity[] = ["stop", "fix now", "explain"];

export function sketchOf({ folded, channel, view, fresh, toCome = [], present = null }: Drawn): SectionSketch {
  const computed = new Map(
    (view?.verticals ?? [])
      .filter((vertical) => vertical.channel === channel.key)
      .map((vertical) => [vertical.key, vertical]),
  );
  return {
    lengthUnit: textAt(folded, "units/length") ?? "",
    depthUnit: textAt(folded, "units/depth") ?? textAt(folded, "units/length") ?? "",
    velocityUnit: textAt(folded, "units/velocity") ?? "",
    mirrored: isMirrored(channel, textAt(folded, "zero_bank")),
    verticals: alongTape(channel.verticals).map((said) => {
      const known = computed.get(said.key);
      return {
        key: said.key,
        tape: Number(said.tape),
        label: said.tape,
        depth: said.dry ? 0 : said.depth === null || said.depth === "" ? null : Number(said.depth),
        velocity: known?.velocity ?? null,
        share: known?.share ?? null,
        panel: known?.start == null || known.end == null ? null : [known.start, known.end],
        edge: said.edge,
        asked: gravest(view, said.key),
      };
    }),
    toCome: toCome.map(spot),
    present: present === null ? null : spot(present),
    limits: view?.share_limits ?? null,
    fresh,
  };
}

/** Return what the picture says, in words, for those who do not see it. */
export function described(sketch: SectionSketch): string {
  const { verticals, lengthUnit, depthUnit, velocityUnit, toCome, present } = sketch;
  const read = verticals.filter(({ edge, depth }) => edge === null && depth !== null);
  const edges = verticals.filter(({ edge }) => edge !== null);
  const asked = verticals.filter((vertical) => vertical.asked !== null);
  const deepest = most(read, (vertical) => vertical.depth);
  const fastest = most(read, (vertical) => vertical.velocity);
  const largest = sketch.fresh ? most(read, (vertical) => vertical.share) : null;
  return [
    "Section, looking downstream.",
    ...edges.map(({ edge, label }) => `${capital(edge!)} edge of water at ${label} ${lengthUnit}.`),
    `${read.length === 1 ? "1 vertical" : `${read.length} verticals`} read.`,
    deepest && `Deepest ${deepest.depth} ${depthUnit} at ${deepest.label}.`,
    fastest && `Fastest ${figure(fastest.velocity!)} ${velocityUnit} at ${fastest.label}.`,
    largest && `Largest share ${largest.share!.toFixed(1)} % at ${largest.label}.`,
    asked.length > 0 && `Questions at ${asked.map(({ label }) => label).join(", ")}.`,
    toCome.length > 0 && `${toCome.length} planned positions to come.`,
    present && `The crew is at ${present.label} ${lengthUnit}.`,
  ]
    .filter(Boolean)
    .join(" ");
}

/** Return a computed velocity as it is shown beside figures that were called. */
export function figure(velocity: number): string {
  return velocity.toFixed(2);
}

function isMirrored(channel: ChannelSaid, zero: string | undefined): boolean {
  const [left, right] = [edgeOf(channel, "left"), edgeOf(channel, "right")];
  if (left && right) return Number(left.tape) > Number(right.tape);
  return zero === "right";
}

function gravest(view: View | null, key: string): Severity | null {
  const open = view?.findings.filter((finding) => finding.open && finding.verticals.includes(key)) ?? [];
  return GRAVE.find((severity) => open.some((finding) => finding.severity === severity)) ?? null;
}

function most(verticals: readonly SketchVertical[], of: (one: SketchVertical) => number | null) {
  let most: SketchVertical | null = null;
  for (const one of verticals) {
    if (of(one) !== null && (most === null || of(one)! > of(most)!)) most = one;
  }
  return most;
}

function spot(label: string): Spot {
  return { tape: Number(label), label };
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}
