/**
 * What is drawn of a section that somebody looks along: its water, banks, stones and dead water.
 *
 * All of it is data of the section; what lies before and beyond the tape line is the section drawn
 * out along the stream. Where a streak or a wavelet lies is drawn from a seed, so that one section
 * always looks the same.
 */

import { points, type Spot } from "./along_camera.ts";
import { Laid } from "./along_laid.ts";
import type { Bank, FacePlace, SectionView, Stretch } from "./contract.ts";
import { numbersFrom } from "./seeded.ts";

/** How long the way is that foam goes while the eye rests on it, in s (ours). */
const SEEN_FOR = 1.2;
/** A surface less uneven than this is smooth, more than that breaks; in m (assumed). */
export const SMOOTH = 0.003;
export const BROKEN = 0.018;
/** Ripple is drawn so much higher than it is, as otherwise nobody saw it (ours). */
const HIGHER = 4;
const HIGHEST = 0.02;
/** How high banks are drawn that are no slope, in m: of their height the data says nothing (ours). */
const BANK = { sloping: 0, steep: 0.5, undercut: 0.5 } as const;
/** How tall the person is who stands beside the tape, in m (ours). */
export const PERSON = 1.7;
/** What is wider than this and stands out of the water is a bar, in m (ours). */
export const BAR = 1.2;
/** How far to either side an eye takes in how dark the water is, in m (ours). */
const BESIDE = 0.4;
/** Rows of stones before and beyond the tape line are so far apart at least, in m, and no more (ours). */
const LEAST_APART = 1.5;
const MOST_ROWS = 6;
const GRAVITY = 9.80665;

export interface Mark {
  readonly d: string;
  /** From 0, far away, to 2, near. */
  readonly layer: number;
}

export interface Stone {
  readonly x: number;
  readonly y: number;
  /** Half its width in pixels. */
  readonly rx: number;
}

export interface Scene {
  /** Strips from bank to bank, `dark` from 0 to 1. */
  readonly water: readonly { readonly outline: string; readonly dark: number }[];
  /** The same water further down, where nothing of it is told. */
  readonly beyond: string;
  readonly banks: readonly { readonly kind: Bank; readonly face: string; readonly ground: string; readonly edge: string }[];
  readonly slicks: readonly string[];
  readonly swirls: readonly { readonly x: number; readonly y: number; readonly rx: number }[];
  readonly streaks: readonly Mark[];
  readonly wavelets: readonly Mark[];
  readonly crests: readonly Mark[];
  readonly bars: readonly string[];
  /** What stands out of the water and what lies close under it, the farthest first. */
  readonly stones: readonly Stone[];
  readonly under: readonly Stone[];
  /** Branches that drift, and wood that lies across the water further down. */
  readonly drift: readonly string[];
  readonly wood: readonly string[];
  readonly tape: readonly [Spot, Spot];
  /** Where the person stands, and how tall that is in pixels. */
  readonly person: { readonly x: number; readonly y: number; readonly tall: number };
}

const holds = (stretches: readonly Stretch[], at: number): boolean =>
  stretches.some(([from, to]) => from <= at && at <= to);

export function sceneOf(section: SectionView, seed: number, drifts = false): Scene {
  const laid = new Laid(section);
  const { camera } = laid;
  const half = 0.5 / section.face.length;
  const wide = ([from, to]: Stretch): number => (to - from) * section.width_m;
  const isBar = (one: Stretch): boolean => wide(one) > BAR;
  return {
    water: section.face.map(({ at }, place) => ({
      outline: laid.outline([at - half, at + half], camera.near, camera.far),
      dark: darkAt(section, place),
    })),
    beyond: laid.outline([0, 1], camera.far, 8 * camera.tape),
    banks: [bankOf(laid, 0, section.left_bank), bankOf(laid, 1, section.right_bank)],
    slicks: section.dead.map((one) => slickOf(laid, section, one)),
    swirls: section.back.map((one) => swirlOf(laid, section, one)),
    ...surfaceOf(laid, section, seed),
    bars: section.stones.filter(isBar).map((one) => laid.outline(one, camera.near, camera.far)),
    stones: bedOf(laid, section, section.stones.filter((one) => !isBar(one)), seed + 1),
    under: bedOf(laid, section, section.under, seed + 2),
    drift: drifts ? driftOf(laid, seed + 3) : [],
    wood: section.wood_m === null ? [] : woodOf(laid, section.wood_m, seed + 4),
    tape: [laid.spot(0, camera.tape), laid.spot(1, camera.tape)],
    person: personOf(laid, section),
  };
}

/** How dark the water is at a place: an eye takes in what lies beside it as well. */
function darkAt({ face, darkest, width_m }: SectionView, place: number): number {
  const reach = Math.max(1, Math.round((BESIDE / width_m) * face.length));
  const beside = face.slice(Math.max(0, place - reach), place + reach + 1).filter(({ dry }) => !dry);
  return beside.reduce((sum, { dark }) => sum + dark, 0) / (beside.length * darkest || 1);
}

/** Stones of the tape line where they are, and the same ones again before and beyond it. */
function bedOf(laid: Laid, section: SectionView, found: readonly Stretch[], seed: number): Stone[] {
  const { near, tape, far, perMetre } = laid.camera;
  const next = numbersFrom(seed);
  const apart = Math.max(LEAST_APART, section.width_m / (found.length || 1));
  const rows = Math.min(MOST_ROWS, Math.round((far - near) / apart));
  const stones = found.flatMap((one) =>
    Array.from({ length: rows + 1 }, (_, row) => {
      const middle = (one[0] + one[1]) / 2;
      const [shift, along] = [next() - 0.5, next()];
      const at = row === 0 ? middle : middle + (shift * apart) / section.width_m;
      const away = row === 0 ? tape : near * (far / near) ** ((row - 1 + along) / rows);
      const [x, y] = laid.spot(at, away);
      return { at, x, y, rx: Math.max(1, ((one[1] - one[0]) * section.width_m * perMetre(away)) / 2) };
    }),
  );
  return stones.filter(({ at }) => at > 0.02 && at < 0.98).sort((a, b) => a.y - b.y);
}

function bankOf(laid: Laid, at: 0 | 1, kind: Bank): Scene["banks"][number] {
  const { near, tape, far } = laid.camera;
  const away = [near * 0.8, tape, far, 8 * tape];
  const foot = away.map((distance) => laid.spot(at, distance));
  const top = away.map((distance) => laid.spot(at, distance, BANK[kind]));
  const side = at === 0 ? -900 : 900;
  const ground: Spot[] = [...top, [side, top[3]![1]], [side, top[0]![1]]];
  return { kind, face: points([...foot, ...top.toReversed()]), ground: points(ground), edge: points(foot) };
}

/** Dead water behind a stone lies beyond it; dead water beside a bank all along. */
function slickOf(laid: Laid, { stones, width_m }: SectionView, one: Stretch): string {
  const { near, tape, far } = laid.camera;
  const wide = (one[1] - one[0]) * width_m;
  const reach = Math.max(0.12 * tape, 1.5 * wide);
  if (besideBank(one)) return laid.outline(one, near, far);
  const behind = stones.some(([from, to]) => from <= one[1] + 0.01 && to >= one[0] - 0.01);
  return laid.outline(one, behind ? tape : tape - reach / 2, tape + reach);
}

/** Whether a stretch reaches one of the banks. */
export function besideBank([from, to]: Stretch): boolean {
  return from < 0.01 || to > 0.99;
}

function swirlOf(laid: Laid, { width_m }: SectionView, [from, to]: Stretch): Scene["swirls"][number] {
  const { tape, perMetre } = laid.camera;
  const [x, y] = laid.spot((from + to) / 2, 1.12 * tape);
  return { x, y, rx: Math.max(7, 0.45 * (to - from) * width_m * perMetre(1.12 * tape)) };
}

function surfaceOf(laid: Laid, section: SectionView, seed: number): Pick<Scene, "streaks" | "wavelets" | "crests"> {
  const { near, tape, far } = laid.camera;
  const next = numbersFrom(seed);
  const step = 1 / section.face.length;
  const streaks: Mark[] = [];
  const wavelets: Mark[] = [];
  const crests: Mark[] = [];
  for (const place of section.face) {
    // As many numbers for every place, so that one that changes leaves the others as they were.
    for (let i = 0; i < MARKS; i++) {
      const away = near * (far / near) ** next();
      const at = place.at + step * (next() - 0.5);
      const [share, crest] = [next(), next()];
      if (place.dry || holds(section.stones, at)) continue;
      const layer = away < 0.8 * tape ? 2 : away < 1.4 * tape ? 1 : 0;
      if (i < STREAKS) {
        if (!holds(section.dead, at)) streaks.push({ d: streak(laid, at, away, place), layer });
      } else if (place.ripple > SMOOTH && share * FULL < place.ripple) {
        // White water is never white all over: dark shows between the crests.
        const white = Math.min(MOST_WHITE, (place.ripple - BROKEN) / (4 * BROKEN) + LEAST_WHITE);
        const broken = place.ripple > BROKEN && crest < white;
        (broken ? crests : wavelets).push({ d: wavelet(laid, at, away, place), layer });
      }
    }
  }
  return { streaks, wavelets, crests };
}

/** How many marks a place has at most, how many of these tell the current, and the ripple that has all. */
const MARKS = 10;
const STREAKS = 3;
const LEAST_WHITE = 0.15;
const MOST_WHITE = 0.4;
const FULL = 0.015;

/** The way that foam goes while it is looked at: as long as the water is fast, as it runs. */
function streak(laid: Laid, at: number, away: number, { speed, angle }: FacePlace): string {
  const turn = (angle * Math.PI) / 180;
  const long = (speed * SEEN_FOR) / 2;
  const across = laid.drawnOut(at, away);
  const [a, b] = [-long, long].map((way) =>
    laid.camera.spot(across + way * Math.sin(turn), 0, Math.max(1, away + way * Math.cos(turn))),
  );
  return `M${points([a!])}L${points([b!])}`;
}

/** A wave that stands across the current: as wide as a wave is long that stands in such water. */
function wavelet(laid: Laid, at: number, away: number, { speed, angle, ripple }: FacePlace): string {
  const scale = laid.camera.perMetre(away);
  const wide = Math.min(1, Math.max(0.15, (2 * Math.PI * speed * speed) / GRAVITY)) * scale;
  const high = Math.max(1, HIGHER * Math.min(ripple, HIGHEST) * scale);
  const tilt = Math.sin((angle * Math.PI) / 180) * wide * 0.5;
  const [x, y] = laid.spot(at, away);
  const f = (value: number): string => value.toFixed(1);
  return `M${f(x - wide / 2)} ${f(y - tilt / 2)}q${f(wide / 2)} ${f(tilt / 2 - 2 * high)} ${f(wide)} ${f(tilt)}`;
}

/** Branches here and there, each with a twig. */
function driftOf(laid: Laid, seed: number): string[] {
  const { near, far, perMetre } = laid.camera;
  const next = numbersFrom(seed);
  return Array.from({ length: BRANCHES }, () => {
    const away = near * (far / near) ** next();
    const [x, y] = laid.spot(0.15 + 0.7 * next(), away);
    const long = (0.4 + 0.7 * next()) * perMetre(away);
    const tilt = 0.3 * (next() - 0.5) * long;
    return `M${x - long / 2} ${y}l${long} ${tilt}m${-0.4 * long} ${-0.4 * tilt}l${0.2 * long} ${-0.2 * long}`;
  });
}

const BRANCHES = 7;
/** How high a jam of wood stands out of the water, in m (ours), and of how many trunks it is drawn. */
const JAM = 1.2;
const TRUNKS = 7;

/** Trunks across the water from bank to bank, so far below the tape line. */
function woodOf(laid: Laid, below: number, seed: number): string[] {
  const away = laid.camera.tape + below;
  const next = numbersFrom(seed);
  const [left, right] = [laid.spot(-0.03, away), laid.spot(1.03, away)];
  const tall = JAM * laid.camera.perMetre(away);
  const f = (value: number): string => value.toFixed(1);
  return Array.from({ length: TRUNKS }, () => {
    const [from, to] = [left[0] + 0.4 * next() * (right[0] - left[0]), right[0] - 0.4 * next() * (right[0] - left[0])];
    return `M${f(from)} ${f(left[1] - tall * next())}L${f(to)} ${f(right[1] - tall * next())}`;
  });
}

function personOf(laid: Laid, { left_bank }: SectionView): Scene["person"] {
  const { tape, perMetre, spot } = laid.camera;
  const [x, y] = spot(laid.across(0), BANK[left_bank], tape);
  const tall = PERSON * perMetre(tape);
  return { x: Math.max(tall / 8, x - tall / 6 - 3), y, tall };
}
