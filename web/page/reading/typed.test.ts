import assert from "node:assert/strict";
import { test } from "node:test";

import { faultOf, figureOf, NOTHING_TYPED, pressed, shown, typedFrom, type Key } from "./typed.ts";

function typed(keys: string, fixed: number | null = null) {
  let typed = NOTHING_TYPED;
  for (const key of keys) typed = pressed(typed, (key === "<" ? "back" : key) as Key, fixed);
  return typed;
}

function figure(keys: string, fixed: number | null = null) {
  return figureOf(typed(keys, fixed), fixed);
}

test("every digit is kept as typed", () => {
  assert.equal(figure("1.0"), "1.0");
  assert.equal(figure("0.80"), "0.80");
  assert.equal(figure("14"), "14");
});

test("a point pressed first, last or twice makes a figure all the same", () => {
  assert.equal(figure(".8"), "0.8");
  assert.equal(figure("1."), "1");
  assert.equal(figure("1..5"), "1.5");
});

test("digits fill from the right where decimals are fixed", () => {
  assert.equal(figure("105", 2), "1.05");
  assert.equal(figure("5", 2), "0.05");
  assert.equal(figure("083", 2), "0.83");
  assert.equal(figure("145", 1), "14.5");
  assert.equal(figure("100", 2), "1.00");
  assert.equal(figure("14", 0), "14");
  assert.equal(shown(typed("10", 2), 2), "0.10");
});

test("the point key ends fixed decimals for the figure under way", () => {
  assert.equal(figure("1.5", 2), "1.5");
  assert.equal(figure("1.5", 0), "15");
});

test("minus changes the sign at any time, and the last key is deleted first", () => {
  assert.equal(figure("-012", 2), "-0.12");
  assert.equal(figure("012-", 2), "-0.12");
  assert.equal(figure("0.12--"), "0.12");
  assert.equal(figure("1.05<<8"), "1.8");
  assert.equal(shown(typed("-1<"), null), "-");
  assert.equal(shown(typed("-1<<"), null), "");
});

test("what may have lost its point is no figure, and says so", () => {
  assert.equal(figure("08"), null);
  assert.match(faultOf(typed("08"), null) ?? "", /^08 is no figure/);
  assert.equal(faultOf(typed("0.8"), null), null);
  assert.equal(faultOf(NOTHING_TYPED, null), null);
});

test("a draft gives back the keys, and nothing where it is none", () => {
  assert.deepEqual(typedFrom({ keys: "1.0", negative: true }), { keys: "1.0", negative: true });
  for (const draft of [undefined, null, "1.0", { keys: 10 }, { keys: "a" }]) {
    assert.deepEqual(typedFrom(draft), NOTHING_TYPED);
  }
});
