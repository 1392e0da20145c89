/**
 * Where everything stands in the printed picture of a section: velocities, shares, and the bed under
 * one another along the tape. Black on white; hatching and open marks say what colours would.
 */

import type { DrawnChannel, DrawnRow, SectionDrawing } from "../note_view.ts";

export interface Line {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly kind: "axis" | "stem" | "guess" | "read" | "bed" | "bank" | "water" | "open" | "limit";
}

export interface Words {
  readonly at: readonly [number, number];
  readonly text: string;
  readonly anchor: "start" | "middle" | "end";
  readonly bold?: boolean;
}

export interface Figure {
  readonly width: number;
  readonly height: number;
  readonly ground: readonly string[];
  readonly water: readonly string[];
  readonly bars: readonly {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
    readonly mark: "" | "*" | "**";
  }[];
  readonly lines: readonly Line[];
  readonly dots: readonly { readonly x: number; readonly y: number; readonly full: boolean }[];
  readonly words: readonly Words[];
  /** The names of the three axes, each over its own scale. */
  readonly axes: readonly Words[];
}

/** 180 mm of paper at 4 units a millimetre. */
const WIDTH = 720;
const LEFT = 62;
const RIGHT = 58;
const BETWEEN = 18;
const LINE = 12;
const VELOCITY = { top: 20, height: 52 };
const SHARE = { top: 86, height: 48 };
const SECTION = { top: 148, height: 106 };
/** How far the picture goes down and up, and how high banks are sketched, in deepest depths. */
const GROUND = 1.2;
const SKY = 0.3;
const BANK = 0.14;
/** A channel drawn narrower than this part of its row would not be legible. */
const NARROWEST = 0.16;
const MARGIN = 0.06;

type Scale = (value: number) => number;

export function figureOf(drawing: SectionDrawing, row: DrawnRow): Figure {
  const all = drawing.rows.flatMap(({ channels }) => channels);
  const verticals = all.flatMap((channel) => channel.verticals);
  const deepest = Math.max(...verticals.map(({ depth }) => depth), 0) || 1;
  const speeds = reach(verticals.map(({ velocity }) => velocity));
  const shares = reach([...all.flatMap(({ panels }) => panels.map(({ share }) => share ?? 0)), drawing.limits.aim]);
  const scales: Scales = {
    velocity: between(VELOCITY.top + VELOCITY.height, VELOCITY.top, speeds),
    share: between(SHARE.top + SHARE.height, SHARE.top, shares),
    depth: between(SECTION.top, SECTION.top + SECTION.height, [-SKY * deepest, GROUND * deepest]),
    deepest,
  };
  const figure = new Drawn();
  let x = LEFT;
  const rooms = roomsOf(row.channels);
  row.channels.forEach((channel, i) => {
    drawChannel(figure, channel, scales, [x, x + rooms[i]!]);
    x += rooms[i]! + BETWEEN;
  });
  drawScales(figure, drawing, scales, speeds, shares, WIDTH - RIGHT);
  const bottom = SECTION.top + SECTION.height + 2 * LINE + 6;
  figure.say([WIDTH / 2, bottom], row.tape, "middle");
  return figure.done(bottom + 6, [
    { at: [10, VELOCITY.top + VELOCITY.height / 2], text: `velocity (${drawing.units.velocity})`, anchor: "middle" },
    { at: [10, SHARE.top + SHARE.height / 2], text: "share (%)", anchor: "middle" },
    { at: [10, SECTION.top + SECTION.height / 2], text: `depth (${drawing.units.depth})`, anchor: "middle" },
  ]);
}

/** Return round figures from low to high, about so many. */
export function ticks(low: number, high: number, about: number): number[] {
  const rough = (high - low) / about;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => one >= rough) ?? rough;
  const first = Math.ceil(low / step - 1e-9);
  const count = Math.floor(high / step + 1e-9) - first + 1;
  return Array.from({ length: Math.max(count, 0) }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

interface Scales {
  readonly velocity: Scale;
  readonly share: Scale;
  readonly depth: Scale;
  readonly deepest: number;
}

class Drawn {
  readonly #ground: string[] = [];
  readonly #water: string[] = [];
  readonly #bars: Figure["bars"][number][] = [];
  readonly #lines: Line[] = [];
  readonly #dots: Figure["dots"][number][] = [];
  readonly #words: Words[] = [];

  ground(points: readonly (readonly [number, number])[]): void {
    this.#ground.push(path(points));
  }
  water(points: readonly (readonly [number, number])[]): void {
    this.#water.push(path(points));
  }
  bar(bar: Figure["bars"][number]): void {
    this.#bars.push(bar);
  }
  line(from: readonly [number, number], to: readonly [number, number], kind: Line["kind"]): void {
    this.#lines.push({ from, to, kind });
  }
  dot(x: number, y: number, full: boolean): void {
    this.#dots.push({ x, y, full });
  }
  say(at: readonly [number, number], text: string, anchor: Words["anchor"], bold = false): void {
    this.#words.push({ at, text, anchor, bold });
  }
  done(height: number, axes: readonly Words[]): Figure {
    return {
      width: WIDTH,
      height,
      ground: this.#ground,
      water: this.#water,
      bars: this.#bars,
      lines: this.#lines,
      dots: this.#dots,
      words: this.#words,
      axes,
    };
  }
}

function roomsOf(channels: readonly DrawnChannel[]): number[] {
  const whole = channels.reduce((sum, channel) => sum + widthOf(channel), 0) || 1;
  const wished = channels.map((channel) => Math.max(widthOf(channel) / whole, NARROWEST));
  const sum = wished.reduce((a, b) => a + b, 0);
  const room = WIDTH - LEFT - RIGHT - BETWEEN * (channels.length - 1);
  return wished.map((one) => (one / sum) * room);
}

function widthOf({ verticals }: DrawnChannel): number {
  return verticals.at(-1)!.tape - verticals[0]!.tape;
}

function drawChannel(figure: Drawn, channel: DrawnChannel, scales: Scales, ends: readonly [number, number]): void {
  const margin = MARGIN * (widthOf(channel) || 1);
  const reach: [number, number] = [channel.verticals[0]!.tape - margin, channel.verticals.at(-1)!.tape + margin];
  const [from, to] = channel.mirrored ? [ends[1], ends[0]] : ends;
  const x = between(from, to, reach);
  if (channel.title) figure.say([ends[0], 11], channel.title, "start", true);
  drawVelocities(figure, channel, scales, x, ends);
  drawShares(figure, channel, scales, x, ends);
  drawBed(figure, channel, scales, x, margin);
  nameBanks(figure, channel, ends);
  const foot = SECTION.top + SECTION.height;
  figure.line([ends[0], foot], [ends[1], foot], "axis");
  for (const tape of ticks(...reach, Math.max(2, (ends[1] - ends[0]) / 60))) {
    figure.line([x(tape), foot], [x(tape), foot + 4], "axis");
    figure.say([x(tape), foot + 4 + LINE], String(tape), "middle");
  }
}

function drawVelocities(figure: Drawn, channel: DrawnChannel, scales: Scales, x: Scale, ends: readonly [number, number]): void {
  const zero = scales.velocity(0);
  figure.line([ends[0], zero], [ends[1], zero], "axis");
  for (const vertical of channel.verticals) {
    if (vertical.depth === 0) continue;
    const top = scales.velocity(vertical.velocity);
    figure.line([x(vertical.tape), zero], [x(vertical.tape), top], vertical.measured ? "stem" : "guess");
    figure.dot(x(vertical.tape), top, vertical.measured);
  }
}

function drawShares(figure: Drawn, channel: DrawnChannel, scales: Scales, x: Scale, ends: readonly [number, number]): void {
  const zero = scales.share(0);
  for (const { start, end, share, mark } of channel.panels) {
    if (share === null) continue;
    const [a, b] = [x(start), x(end)];
    const y = scales.share(share);
    figure.bar({
      x: Math.min(a, b),
      y: Math.min(zero, y),
      width: Math.abs(b - a),
      height: Math.abs(y - zero),
      mark,
    });
  }
  figure.line([ends[0], zero], [ends[1], zero], "axis");
  if (channel.panels.every(({ share }) => share === null)) {
    figure.say([(ends[0] + ends[1]) / 2, zero - LINE], "no shares can be told", "middle");
  }
}

/** Where no edge was measured the picture stays open: no bank and no ground is made up. */
function drawBed(figure: Drawn, channel: DrawnChannel, scales: Scales, x: Scale, margin: number): void {
  const y = scales.depth;
  const bed = channel.verticals.map(({ tape, depth }): readonly [number, number] => [x(tape), y(depth)]);
  const [first, last] = [channel.verticals[0]!, channel.verticals.at(-1)!];
  const surface = y(0);
  figure.water([[x(first.tape), surface], ...bed, [x(last.tape), surface]]);
  const ground = [...bed];
  for (const [vertical, step, open] of [
    [first, -margin, channel.unmeasured[0]],
    [last, margin, channel.unmeasured[1]],
  ] as const) {
    const at = x(vertical.tape);
    const out = x(vertical.tape + step);
    if (open) {
      figure.line([at, surface], [out, surface], "open");
      continue;
    }
    const bank: (readonly [number, number])[] = [[at, surface], [out, y(-BANK * scales.deepest)]];
    figure.line(bank[0]!, bank[1]!, "bank");
    figure.line([at, surface], [at, y(vertical.depth)], "bed");
    if (step < 0) ground.unshift(...bank.toReversed());
    else ground.push(...bank);
  }
  const foot = y(GROUND * scales.deepest);
  figure.ground([[ground[0]![0], foot], ...ground, [ground.at(-1)![0], foot]]);
  bed.forEach((point, i) => i > 0 && figure.line(bed[i - 1]!, point, "bed"));
  figure.line([x(first.tape), surface], [x(last.tape), surface], "water");
  for (const vertical of channel.verticals) {
    const at = x(vertical.tape);
    figure.line([at, surface], [at, y(vertical.depth)], vertical.measured ? "stem" : "guess");
    for (const fraction of vertical.depth > 0 ? vertical.fractions : []) {
      const level = y(fraction * vertical.depth);
      figure.line([at - 4, level], [at + 4, level], "read");
    }
  }
}

function nameBanks(figure: Drawn, channel: DrawnChannel, ends: readonly [number, number]): void {
  const named = [0, 1].map((i) => ({ bank: channel.banks[i as 0 | 1], open: channel.unmeasured[i as 0 | 1] }));
  if (channel.mirrored) named.reverse();
  named.forEach(({ bank, open }, i) => {
    if (bank === null && !open) return;
    const narrow = ends[1] - ends[0] < 150;
    const text = open ? `${narrow ? "" : "edge "}not measured` : `${bank}${narrow ? "" : " bank"}`;
    figure.say([ends[i as 0 | 1], SECTION.top + 9], text, i === 0 ? "start" : "end", true);
  });
}

function drawScales(
  figure: Drawn,
  drawing: SectionDrawing,
  scales: Scales,
  speeds: readonly [number, number],
  shares: readonly [number, number],
  right: number,
): void {
  const { deepest } = scales;
  for (const [scale, low, high, about, top, foot] of [
    [scales.velocity, ...speeds, 3, VELOCITY.top, VELOCITY.top + VELOCITY.height],
    [scales.share, ...shares, 3, SHARE.top, SHARE.top + SHARE.height],
    [scales.depth, 0, GROUND * deepest, 4, scales.depth(0), SECTION.top + SECTION.height],
  ] as const) {
    figure.line([LEFT, top], [LEFT, foot], "axis");
    for (const tick of ticks(low, high, about)) {
      figure.line([LEFT - 4, scale(tick)], [LEFT, scale(tick)], "axis");
      figure.say([LEFT - 7, scale(tick) + 3.5], String(tick), "end");
    }
  }
  const { aim, limit } = drawing.limits;
  for (const [value, name] of [[aim, "aim"], [limit, "limit"]] as const) {
    if (value > shares[1]) continue;
    const y = scales.share(value);
    figure.line([LEFT, y], [right, y], "limit");
    const apart = limit > shares[1] || scales.share(aim) - scales.share(limit) > LINE - 1;
    if (name === "limit" || apart) figure.say([right + 4, y + 3.5], `${name} ${value} %`, "start");
  }
}

function reach(values: readonly number[]): [number, number] {
  const [low, high] = [Math.min(0, ...values), Math.max(0, ...values)];
  return high > low ? [low * 1.15, high * 1.15] : [0, 1];
}

function between(from: number, to: number, [low, high]: readonly [number, number]): Scale {
  return (value) => from + ((value - low) / (high - low)) * (to - from);
}

function path(points: readonly (readonly [number, number])[]): string {
  return `M${points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(" L")} Z`;
}
