/** What is drawn can be read: 500 rods and 500 tapes, read back from where their lines lie. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { render } from "svelte/server";

import { seeded } from "../testing/journal.ts";
import { graduation, type ScaleUnit } from "./graduation.ts";
import Rod, { rippleOf } from "./Rod.svelte";
import Tape from "./Tape.svelte";

const COUNT = 500;

interface Drawn {
  readonly marks: readonly { readonly kind: string; readonly at: number }[];
  readonly numerals: readonly { readonly value: number; readonly at: number }[];
  readonly water: readonly { readonly x: number; readonly y: number }[];
}

function drawnIn(svg: string): Drawn {
  const marks = [...svg.matchAll(/data-part="mark" data-kind="(\w+)" data-at="([-\d.e]+)"/g)];
  const numerals = [...svg.matchAll(/data-part="numeral" data-at="([-\d.e]+)"[^>]*>([\d.]+)</g)];
  const points = /data-part="water-line" points="([^"]+)"/.exec(svg)![1]!;
  return {
    marks: marks.map(([, kind, at]) => ({ kind: kind!, at: Number(at) })),
    numerals: numerals.map(([, at, value]) => ({ value: Number(value), at: Number(at) })),
    water: points.split(" ").map((point) => {
      const [x, y] = point.split(",");
      return { x: Number(x), y: Number(y) };
    }),
  };
}

/** Count marks from a numeral to the middle of the ripple, as an eye does; `grows` as figures do. */
function readBack({ marks, numerals, water }: Drawn, unit: ScaleUnit, along: "x" | "y", grows: 1 | -1): number {
  const places = marks.map(({ at }) => at).sort((a, b) => a - b);
  const steps = places.slice(1).map((at, i) => at - places[i]!);
  const step = steps.reduce((sum, one) => sum + one, 0) / steps.length;
  for (const one of steps) assert.ok(Math.abs(one - step) < 1e-6 * step);
  const level = water.slice(0, -1).reduce((sum, point) => sum + point[along], 0) / (water.length - 1);
  const readings = numerals.map(({ value, at }) => {
    assert.ok(marks.some((mark) => mark.kind === "whole" && Math.abs(mark.at - at) < 1e-9));
    return value + (grows * (level - at) * graduation(unit)) / step;
  });
  assert.ok(readings.length > 0);
  // Whichever numeral is counted from, the reading is the same.
  assert.ok(Math.max(...readings) - Math.min(...readings) < graduation(unit) / 100);
  return readings[0]!;
}

function closeView(svg: string): string {
  return svg.slice(svg.indexOf('class="close'));
}

test("500 rods are read to less than half a graduation", () => {
  const random = seeded(5);
  let worst = 0;
  for (let i = 0; i < COUNT; i++) {
    const unit: ScaleUnit = random() < 0.5 ? "ft" : "cm";
    const depth = 0.3 * graduation(unit) + random() * (unit === "ft" ? 3.5 : 110);
    const ripple = rippleOf(random() * 3 * graduation(unit), unit, random());
    const { body } = render(Rod, { props: { unit, depth, ripple, off: 2 * random() - 1 } });
    const read = readBack(drawnIn(closeView(body)), unit, "y", -1);
    worst = Math.max(worst, Math.abs(read - depth) / graduation(unit));
  }
  assert.ok(worst < 0.05, `${worst} of a graduation`);
});

test("500 tapes are read to less than half a graduation, from either side", () => {
  const random = seeded(6);
  let worst = 0;
  for (let i = 0; i < COUNT; i++) {
    const unit: ScaleUnit = random() < 0.5 ? "ft" : "m";
    const edge = random() * 60;
    const backwards = random() < 0.5;
    const ripple = { height: 4, phase: random(), pileUp: 0 };
    const water = random() < 0.5 ? ("larger" as const) : ("smaller" as const);
    const { body } = render(Tape, { props: { unit, edge, water, ripple, off: 2 * random() - 1, backwards } });
    const read = readBack(drawnIn(body), unit, "x", backwards ? -1 : 1);
    worst = Math.max(worst, Math.abs(read - edge) / graduation(unit));
  }
  assert.ok(worst < 0.05, `${worst} of a graduation`);
});
