/** Correcting what was read: entries in the place of others, each with its reason. */

import type { Value } from "../journal/entry.ts";
import { keysUnder, textAt, valueAt, type Folded } from "../journal/fold.ts";
import type { Saying } from "../page/gauging.svelte.ts";
import { thingOf } from "../page/said_words.ts";
import { whatOf, type VerticalSaid } from "../page/section.ts";

/** A figure of a vertical that can be written anew. */
export interface Correctable {
  readonly what: string;
  readonly label: string;
  readonly unit: "length" | "depth" | "velocity" | "s" | "°" | "";
  /** As it stands; "" where nothing does. */
  readonly value: string;
  /** Which figure of a velocity it is. */
  readonly member?: "value" | "counts" | "seconds";
  readonly signed?: boolean;
}

/** Return the figures of a vertical in the order in which they are called. */
export function figuresOf(vertical: VerticalSaid): Correctable[] {
  const at = (part: string) => whatOf(vertical.channel, vertical.key, part);
  const readings = vertical.readings.flatMap((reading): Correctable[] => {
    const what = at(`readings/${reading.key}`);
    const where = reading.fraction === null ? "" : ` at ${reading.fraction} of the depth`;
    const read: Correctable =
      reading.counts === null
        ? { what, label: `velocity${where}`, unit: "velocity", value: reading.value ?? "", member: "value", signed: true }
        : { what, label: `counts${where}`, unit: "", value: reading.counts, member: "counts" };
    const seconds: Correctable = { what, label: `seconds${where}`, unit: "s", value: reading.seconds ?? "", member: "seconds" };
    return reading.seconds === null ? [read] : [read, seconds];
  });
  return [
    { what: at("tape"), label: "tape position", unit: "length", value: vertical.tape, signed: true },
    { what: at("depth"), label: "depth", unit: "depth", value: vertical.depth ?? "" },
    ...readings,
    ...(vertical.angle === null
      ? []
      : [{ what: at("angle"), label: "angle of the flow", unit: "°", value: vertical.angle, signed: true } as const]),
  ];
}

/** Return the entries for the figures that were written anew; an emptied one is taken out. */
export function rewritten(
  folded: Folded,
  figures: readonly Correctable[],
  typed: readonly string[],
  reason: string,
): Saying[] {
  const said = new Map<string, Saying>();
  figures.forEach(({ what, value, member }, i) => {
    const text = (typed[i] ?? value).trim();
    const there = said.has(what) ? said.get(what)!.value : (valueAt(folded, what) ?? null);
    // A velocity that was taken out takes its seconds along.
    if (text === value || (said.has(what) && there === null)) return;
    if (text === "" && member !== "seconds") said.set(what, { what, value: null, reason });
    else if (member === undefined) said.set(what, { what, value: text, reason });
    else said.set(what, withMember(what, there, member, text, reason));
  });
  return [...said.values()];
}

/** What of the header can be written anew, in the order of a sheet. */
export const HEADER_TEXTS = [
  "site/id",
  "site/stream",
  "site/name",
  "site/label",
  "date",
  "units/length",
  "units/depth",
  "units/velocity",
  "zero_bank",
  "meter/kind",
  "meter/serial",
  "meter/calibration_due",
  "rule_set",
  "repeats",
  "quality",
  "moved",
  "remarks",
] as const;

/** Words that alone can stand somewhere. */
export const ONE_OF: Readonly<Record<string, readonly string[]>> = {
  "units/length": ["ft", "in", "m", "cm", "mm"],
  "units/depth": ["ft", "in", "m", "cm", "mm"],
  "units/velocity": ["ft/s", "m/s", "cm/s"],
  zero_bank: ["left", "right"],
  quality: ["excellent", "good", "fair", "poor"],
};

export interface HeaderThing {
  readonly what: string;
  readonly label: string;
  readonly value: string;
  /** Which member of an object it is. */
  readonly member: "value" | "name" | null;
  readonly figure: boolean;
}

/** Return what of the header can be written anew, those that stand and those that may. */
export function headerThings(folded: Folded): HeaderThing[] {
  const texts = HEADER_TEXTS.map((what): HeaderThing => ({
    what,
    label: thingOf(folded, what),
    value: textAt(folded, what) ?? "",
    member: null,
    figure: false,
  }));
  return [...texts, ...members(folded, "stage", "value"), ...members(folded, "crew", "name")];
}

/** Return the entry that writes a thing of the header anew; emptied, it is taken out. */
export function headerSaying(folded: Folded, thing: HeaderThing, text: string, reason: string): Saying {
  const { what, member } = thing;
  if (text.trim() === "") return { what, value: null, reason };
  if (member === null) return { what, value: text.trim(), reason };
  return withMember(what, valueAt(folded, what) ?? null, member, text.trim(), reason);
}

function members(folded: Folded, prefix: "stage" | "crew", member: "value" | "name"): HeaderThing[] {
  return keysUnder(folded, prefix).flatMap((key, i): HeaderThing[] => {
    const what = `${prefix}/${key}`;
    const there = valueAt(folded, what) as { readonly [name: string]: Value } | null;
    const text = there?.[member];
    if (typeof text !== "string") return [];
    return [{ what, label: `${thingOf(folded, what)} ${i + 1}`, value: text, member, figure: prefix === "stage" }];
  });
}

/** One member of an object changes, or goes where it is emptied; the others stay. */
function withMember(what: string, there: Value, member: string, text: string, reason: string): Saying {
  const others = Object.entries((there ?? {}) as { [name: string]: Value }).filter(([name]) => name !== member);
  return { what, value: Object.fromEntries([...others, ...(text === "" ? [] : [[member, text]])]), reason };
}
