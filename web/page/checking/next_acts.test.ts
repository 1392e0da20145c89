/** What to do next is told in plain words, and where nothing is told it says why. */

import assert from "node:assert/strict";
import { test } from "node:test";

import type { NextAct, View } from "../view.ts";
import { figuresOf, targetFault, titleOf, told, whyNothing } from "./next_acts.ts";

function act(kind: NextAct["kind"], more: Partial<NextAct> = {}): NextAct {
  const none = { channel: null, tape: null, vertical: null, seconds: 0, percent: "7.9" };
  return { kind, ...none, words: "Read it.", ...more };
}
const at = (tape: string) => ({ channel: "1", tape, seconds: 60 });
const view = (more: Partial<View>) => ({ finished: true, next: [], result: {}, ...more }) as View;

test("the first act stands by itself, with three others, and enough always", () => {
  const verticals = ["1.0", "2.0", "3.0", "4.0", "5.0"].map((tape) => act("vertical", at(tape)));
  const enough = act("enough");
  const { first, others, last } = told([...verticals, enough]);
  assert.equal(first?.tape, "1.0");
  assert.deepEqual(others.map(({ tape }) => tape), ["2.0", "3.0", "4.0"]);
  assert.equal(last, enough);
  assert.deepEqual(told([enough]), { first: enough, others: [], last: null });
  assert.deepEqual(told([]), { first: null, others: [], last: null });
});

test("every act has words and figures of its own", () => {
  assert.equal(titleOf(act("vertical", at("6.4")), "ft"), "One more vertical at 6.4 ft");
  assert.equal(titleOf(act("second point", at("6.4")), "m"), "A second point at 6.4 m");
  assert.equal(titleOf(act("longer exposure", at("6.4")), "m"), "Read longer at 6.4 m");
  assert.equal(titleOf(act("no more"), "m"), "Nothing more is worth its time");
  assert.equal(titleOf(act("no more", { words: "Nothing that is worth …" }), "m"), "Nobody is sent in again");
  assert.equal(titleOf(act("enough", { words: "Enough: ± 7.9 % reached." }), "m"), "Enough");
  assert.match(titleOf(act("enough", { words: "± 7.9 % reached, yet …" }), "m"), /^Or leave it/);
  assert.equal(titleOf(act("elsewhere"), "m"), "Not in this section");
  assert.equal(figuresOf(act("vertical", at("6.4"))), "± 7.9 % expected, about 1 min");
  assert.equal(figuresOf(act("second point", { seconds: 100 })), "± 7.9 % expected, about 2 min");
  assert.equal(figuresOf(act("enough")), "± 7.9 % as it stands");
  assert.equal(figuresOf(act("elsewhere")), "± 7.9 % at the best");
});

test("where nothing is told, it is told why", () => {
  assert.equal(whyNothing(view({ next: [act("enough")] })), null);
  assert.match(whyNothing(view({ finished: false })) ?? "", /once all verticals/);
  assert.match(whyNothing(view({ result: null })) ?? "", /without a discharge/);
  assert.match(whyNothing(view({})) ?? "", /^Nobody is sent anywhere now/);
});

test("a target is a percentage above 0", () => {
  assert.deepEqual(["8", "0.5", "100"].map(targetFault), [null, null, null]);
  for (const text of ["0", "-3", "101", ".", "many"]) assert.match(targetFault(text) ?? "", /above 0/);
});
