/** The section as the entries tell it, without the engine: channels, verticals, what was called. */

import type { Entry, Value } from "../journal/entry.ts";
import { keysUnder, textAt, valueAt, type Folded } from "../journal/fold.ts";
import { compare, isFigure } from "./figures.ts";

export type Edge = "left" | "right";
export type Bank = "sloping" | "steep" | "undercut";

export interface ReadingSaid {
  readonly key: string;
  /** The velocity as called; null where its counts were. */
  readonly value: string | null;
  readonly counts: string | null;
  /** Where it was read below the surface; null where it stands for the whole vertical. */
  readonly fraction: number | null;
  readonly seconds: string | null;
}

export interface VerticalSaid {
  readonly key: string;
  readonly channel: string;
  readonly tape: string;
  readonly edge: Edge | null;
  readonly bank: Bank | null;
  readonly depth: string | null;
  readonly dry: boolean;
  readonly inserted: boolean;
  /** In degrees, or as its cosine. */
  readonly angle: string | null;
  readonly angleCoefficient: string | null;
  readonly wallFactor: string | null;
  readonly remark: string | null;
  readonly readings: readonly ReadingSaid[];
}

export interface ChannelSaid {
  readonly key: string;
  readonly name: string | null;
  /** In the order begun; those taken out are not among them. */
  readonly verticals: readonly VerticalSaid[];
}

export function other(edge: Edge): Edge {
  return edge === "left" ? "right" : "left";
}

/** Return the path of something said of a vertical: channels/1/verticals/v1/depth. */
export function whatOf(channel: string, vertical: string, part: string): string {
  return `channels/${channel}/verticals/${vertical}/${part}`;
}

/** Return the channels in which anything was said; the first one always. */
export function channelsOf(folded: Folded): ChannelSaid[] {
  const keys = keysUnder(folded, "channels");
  if (!keys.includes("1")) keys.unshift("1");
  return keys.map((key) => ({
    key,
    name: textAt(folded, `channels/${key}/name`) ?? null,
    verticals: keysUnder(folded, `channels/${key}/verticals`).flatMap(
      (vertical) => verticalOf(folded, key, vertical) ?? [],
    ),
  }));
}

/** Return a vertical as it stands, null where its tape position was taken out or is no figure. */
export function verticalOf(folded: Folded, channel: string, key: string): VerticalSaid | null {
  const at = (part: string) => whatOf(channel, key, part);
  const tape = textAt(folded, at("tape"));
  if (tape === undefined || !isFigure(tape)) return null;
  return {
    key,
    channel,
    tape,
    edge: oneOf(valueAt(folded, at("edge")), ["left", "right"]),
    bank: oneOf(valueAt(folded, at("bank")), ["sloping", "steep", "undercut"]),
    depth: textAt(folded, at("depth")) ?? null,
    dry: valueAt(folded, at("dry")) === true,
    inserted: valueAt(folded, at("inserted")) === true,
    angle: textAt(folded, at("angle")) ?? null,
    angleCoefficient: textAt(folded, at("angle_coefficient")) ?? null,
    wallFactor: textAt(folded, at("wall_factor")) ?? null,
    remark: textAt(folded, at("remark")) ?? null,
    readings: keysUnder(folded, at("readings")).flatMap((reading) => {
      const said = readingFrom(valueAt(folded, at(`readings/${reading}`)));
      return said === null ? [] : { key: reading, ...said };
    }),
  };
}

/** Return a reading as its entry has it, null where it was taken out. */
export function readingFrom(value: Value | undefined): Omit<ReadingSaid, "key"> | null {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return null;
  const { value: called, counts, fraction, seconds } = value as { [key: string]: Value };
  if (typeof called !== "string" && typeof counts !== "string") return null;
  return {
    value: typeof called === "string" ? called : null,
    counts: typeof counts === "string" ? counts : null,
    fraction: typeof fraction === "number" ? fraction : null,
    seconds: typeof seconds === "string" ? seconds : null,
  };
}

/** Return what was called of a reading, in a word: 0.83, or 35 in 42 s. */
export function calledOf({ value, counts, seconds }: Omit<ReadingSaid, "key">): string {
  return value ?? `${counts} in ${seconds ?? "?"} s`;
}

/** What stood there before what stands now, oldest first; each value once, null where taken out. */
export function struck(folded: Folded, what: string): Entry[] {
  const said = folded.get(what);
  if (said === undefined) return [];
  return said.history.filter((entry) => entry !== said.entry && entry.value !== null);
}

/** Return the edge of a channel, undefined where it was not read. */
export function edgeOf(channel: ChannelSaid, edge: Edge): VerticalSaid | undefined {
  return channel.verticals.find((vertical) => vertical.edge === edge);
}

/** Return verticals along the tape, from its zero on. */
export function alongTape(verticals: readonly VerticalSaid[]): VerticalSaid[] {
  return [...verticals].sort((a, b) => compare(a.tape, b.tape));
}

function oneOf<T extends string>(value: Value | undefined, known: readonly T[]): T | null {
  return known.find((one) => one === value) ?? null;
}
