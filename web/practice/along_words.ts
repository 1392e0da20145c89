/** What is seen of a section from the bank, in words, for who hears the picture or wants it told. */

import { cameraFor } from "./along_camera.ts";
import { LONGEST } from "./along_floats.ts";
import { BAR, besideBank, BROKEN, SMOOTH } from "./along_scene.ts";
import type { Bank, FacePlace, SectionView, SessionView, SignsView, Stretch } from "./contract.ts";

const BANKS: Readonly<Record<Bank, string>> = {
  sloping: "slopes into the water",
  steep: "is steep",
  undercut: "is undercut",
};
/** Directions that differ by more than this across the section run into each other, in ° (assumed). */
const TURNS = 15;
/** A current that is off the square line by more than this runs aslant, in ° (assumed). */
const ASLANT = 8;

/** From so many on there are many stones (ours). */
const MANY = 5;

const METRES = { ft: 0.3048, m: 1 } as const;

/** A length in metres as it is told in the unit of the tape, to one decimal. */
export function lengthInWords(metres: number, unit: "ft" | "m"): string {
  return `${(metres / METRES[unit]).toFixed(1)} ${unit}`;
}

/** For how long leaves drift and over what way: who counts the seconds knows how fast the surface is. */
export function leavesInWords({ width_m }: Pick<SectionView, "width_m">, unit: "ft" | "m"): string {
  const { near, tape, far } = cameraFor(width_m);
  const way = (metres: number): string => lengthInWords(metres, unit);
  return (
    `They drift for ${LONGEST} s. It is ${way(tape - near)} from the front of the picture to the tape, ` +
    `and ${way(far - tape)} from the tape to where they are seen no longer.`
  );
}

/** What shows beside the sections before anybody goes in, one sentence each; the gauge as it is read. */
export function signsInWords({ signs, sections }: Pick<SessionView, "signs" | "sections">, unit: "ft" | "m"): string[] {
  const called = (metres: number): string => `${(metres / METRES[unit]).toFixed(2)} ${unit}`;
  const [before, now] = [called(signs.gauge_before_m), called(signs.gauge_now_m)];
  const last = sections[sections.length - 1];
  return [
    `The staff gauge showed ${before} when you came, and ${now} after ${signs.walked_minutes} minutes along the reach.`,
    signs.brown ? "The water is brown: its bed is not seen." : "The water is clear: its bed is seen where it is shallow.",
    ...(signs.drift ? ["Branches come down in it."] : []),
    ...(last === undefined || last.wood_m === null
      ? ["Nothing lies across the water below."]
      : [`Wood lies across the water ${(last.wood_m / METRES[unit]).toFixed(0)} ${unit} below section ${last.name}.`]),
  ];
}

export function inWords(section: SectionView, { brown, drift }: Pick<SignsView, "brown" | "drift">): string {
  const wet = section.face.filter(({ dry }) => !dry);
  return [
    surface(wet),
    current(wet),
    `It is ${brown ? "brown all over" : `darkest ${place(most(wet, ({ dark }) => dark))}`} and fastest ${place(most(wet, ({ speed }) => speed))}.`,
    ...(drift ? ["Branches drift in it."] : []),
    ...(section.wood_m === null ? [] : ["Further down wood lies across the water."]),
    ...standingOut(section),
    ...deadWater(section),
    section.left_bank === section.right_bank
      ? `Either bank ${BANKS[section.left_bank]}.`
      : `The left bank ${BANKS[section.left_bank]}, the right one ${BANKS[section.right_bank]}.`,
  ].join(" ");
}

function surface(wet: readonly FacePlace[]): string {
  const share = (least: number): number => wet.filter(({ ripple }) => ripple > least).length / wet.length;
  if (share(BROKEN) > 0.5) return "Broken water over most of the width.";
  const partly = share(BROKEN) > 0.1 ? ", broken in places" : "";
  if (share(SMOOTH) < 0.1) return "The surface is smooth.";
  if (share(SMOOTH) < 0.5) return `The surface is smooth over most of the width, rippled elsewhere${partly}.`;
  return `The surface is rippled over most of the width${partly}.`;
}

function current(wet: readonly FacePlace[]): string {
  const forward = wet.filter(({ speed }) => speed > 0).map(({ angle }) => angle).sort((a, b) => a - b);
  const at = (part: number): number => forward[Math.floor(part * (forward.length - 1))] ?? 0;
  const middle = at(0.5);
  if (at(0.9) - at(0.1) > TURNS) return "The current bends this way and that.";
  if (Math.abs(middle) > ASLANT) return `The current runs aslant, towards the ${middle > 0 ? "right" : "left"} bank.`;
  return "The current runs straight.";
}

/** Return the middle of the places where something is most. */
function most(wet: readonly FacePlace[], of: (place: FacePlace) => number): number {
  const top = Math.max(...wet.map(of));
  const there = wet.filter((one) => of(one) >= top);
  return there.reduce((sum, { at }) => sum + at, 0) / there.length;
}

function place(at: number): string {
  if (at < 0.2) return "near the left bank";
  if (at < 0.4) return "left of the middle";
  if (at <= 0.6) return "in the middle";
  return at <= 0.8 ? "right of the middle" : "near the right bank";
}

function standingOut({ stones, under, width_m }: SectionView): string[] {
  const bars = stones.filter(([from, to]) => (to - from) * width_m > BAR).length;
  const single = stones.length - bars;
  const said: string[] = [];
  if (bars > 0) said.push(bars === 1 ? "A dry bar parts the water." : `${bars} dry bars part the water.`);
  if (single > 0) said.push(single === 1 ? "One stone stands out." : `${single} stones stand out.`);
  if (under.length > 0) said.push(under.length < MANY ? "Some stones lie close under the surface." : "Many stones lie close under the surface.");
  return said;
}

function deadWater({ dead, back }: SectionView): string[] {
  const where = (one: Stretch): string =>
    besideBank(one) ? `at the ${one[0] < 0.5 ? "left" : "right"} edge` : place((one[0] + one[1]) / 2);
  const stands = dead.filter(([from]) => !back.some(([begin]) => begin === from));
  return [
    ...(back.length > 0 ? [`Water runs back ${list(back.map(where))}.`] : []),
    ...(stands.length > 0 ? [`Water stands ${list(stands.map(where))}.`] : []),
  ];
}

function list(words: readonly string[]): string {
  return [...new Set(words)].join(" and ");
}
