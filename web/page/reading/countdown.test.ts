import assert from "node:assert/strict";
import { test } from "node:test";

import { Countdown } from "./countdown.svelte.ts";
import { counted, elapsed, left, ranOut } from "./countdown.ts";

const RUN = { started: 5_000, seconds: 40, place: "1 7.0" };

test("the seconds left go from the exposure down to nothing, and stay there", () => {
  assert.equal(left(RUN, 5_000), 40);
  assert.equal(left(RUN, 5_999), 40);
  assert.equal(left(RUN, 6_000), 39);
  assert.equal(left(RUN, 44_999), 1);
  assert.equal(left(RUN, 45_000), 0);
  assert.equal(left(RUN, 99_000), 0);
});

test("it has run out after the whole exposure and not before", () => {
  assert.equal(ranOut(RUN, 44_999), false);
  assert.equal(ranOut(RUN, 45_000), true);
});

test("a velocity keeps whole seconds counted, the full exposure at most, or none at all", () => {
  assert.equal(counted(RUN, 17_900), 12);
  assert.equal(counted(RUN, 200_000), 40);
  assert.equal(counted(RUN, 5_400), null);
  assert.equal(counted(null, 5_400), null);
});

test("a clock that stands behind the start counts nothing", () => {
  assert.equal(elapsed(RUN, 4_000), 0);
});

test("the count-down gives its seconds once and can be started again", () => {
  let now = 0;
  const countdown = new Countdown(() => now);
  const quiet = { sound: false, vibration: false };
  countdown.start(40, "1 7.0", quiet);
  now = 12_300;
  countdown.tick();
  assert.deepEqual([countdown.left, countdown.done], [28, false]);
  countdown.start(40, "1 7.0", quiet);
  now += 3_000;
  assert.equal(countdown.take(), 3);
  assert.deepEqual([countdown.take(), countdown.left], [null, null]);
});

test("a page that was hidden finds on its return that the time ran out", () => {
  let now = 0;
  const countdown = new Countdown(() => now);
  countdown.start(40, "1 7.0", { sound: false, vibration: false });
  now = 95_000;
  countdown.tick();
  assert.deepEqual([countdown.left, countdown.done, countdown.take()], [0, true, 40]);
});

test("what was counted is told by the time it was started with, whatever the exposure is by then", () => {
  let now = 0;
  const countdown = new Countdown(() => now);
  assert.deepEqual([countdown.counted, countdown.part], [null, 0]);
  countdown.start(60, "1 7.0", { sound: false, vibration: false });
  now = 15_000;
  countdown.tick();
  const { counted, part } = countdown;
  countdown.clear();
  assert.deepEqual([counted, part], [15, 0.25]);
});

test("a browser that refuses sound counts all the same, and is asked for it once a page", () => {
  let asked = 0;
  const refusing = class {
    constructor() {
      asked += 1;
      throw new Error("no more audio");
    }
  };
  const sounding = class {
    readonly currentTime = 0;
    readonly destination = {};
    constructor() {
      asked += 1;
    }
    resume = async () => undefined;
    createOscillator = () => ({ frequency: {}, connect: (to: unknown) => to, start() {}, stop() {}, disconnect() {} });
    createGain = () => ({
      gain: { setValueAtTime() {}, linearRampToValueAtTime() {} },
      connect: (to: unknown) => to,
    });
  };
  const browser = globalThis as { AudioContext?: unknown };
  const timers: (() => void)[] = [];
  const { setInterval: real } = globalThis;
  globalThis.setInterval = ((tick: () => void) => timers.push(tick)) as unknown as typeof real;
  try {
    let now = 0;
    const loud = { sound: true, vibration: false };
    browser.AudioContext = refusing;
    const first = new Countdown(() => now);
    first.start(40, "1 7.0", loud);
    now = 10_000;
    timers.at(-1)!();
    assert.deepEqual([first.left, asked], [30, 1]);
    browser.AudioContext = sounding;
    first.start(40, "1 7.0", loud);
    new Countdown(() => now).start(40, "1 7.0", loud);
    assert.equal(asked, 2);
  } finally {
    globalThis.setInterval = real;
    delete browser.AudioContext;
  }
});
