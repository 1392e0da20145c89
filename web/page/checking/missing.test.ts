/** Nothing that is still missing is left out of the list, and nothing that is there is in it. */

import assert from "node:assert/strict";
import { test } from "node:test";

import type { Value } from "../../journal/entry.ts";
import { fold } from "../../journal/fold.ts";
import { entriesOf } from "../../testing/entries.ts";
import { channelsOf } from "../section.ts";
import { begunOnly, missingOf } from "./missing.ts";
import { changeWords, stagesOf } from "./stages.ts";
import { kindsFor } from "./meter_checks.ts";

const photo = (purpose: string): Value => ({
  purpose,
  sha256: "0".repeat(64),
  bytes: 1,
  type: "image/jpeg",
});
const V = "channels/1/verticals";
const WHOLE: Record<string, Value> = {
  [`${V}/l/tape`]: "2.0",
  [`${V}/l/edge`]: "left",
  [`${V}/v/tape`]: "4.0",
  [`${V}/v/depth`]: "0.5",
  [`${V}/r/tape`]: "9.0",
  [`${V}/r/edge`]: "right",
  "stage/a": { value: "1.32", at: "2026-07-14T10:05:00-07:00" },
  "stage/b": { value: "1.30", at: "2026-07-14T10:55:00-07:00" },
  "meter/kind": "electromagnetic",
  "meter/checks/a": { kind: "zero", when: "after", value: "0.00" },
  "photos/1": photo("upstream"),
  "photos/2": photo("downstream"),
  "photos/3": photo("left bank"),
  "photos/4": photo("right bank"),
  "photos/5": photo("staff gauge"),
  ended: "2026-07-14T10:52:00-07:00",
  quality: "good",
  "wading/a": { safe: true, by: "I. Marrow" },
  "crew/a": { name: "I. Marrow", role: "leader" },
  whole_flow: true,
  zero_bank: "left",
  start_bank: "left",
};

function where(values: Record<string, Value>): string[] {
  return missingOf({ folded: fold(entriesOf(values)), view: null })
    .map((missing) => missing.where)
    .filter((one) => one !== "questions");
}

test("a gauging with all of it misses nothing; each thing taken away is missed", () => {
  assert.deepEqual(where(WHOLE), []);
  const taken: Record<string, string> = {
    [`${V}/l/edge`]: "edges",
    [`${V}/v/depth`]: "unread",
    "stage/b": "stage",
    "meter/checks/a": "meter",
    "photos/4": "photos",
    ended: "ended",
    quality: "quality",
    "wading/a": "wading",
    "crew/a": "crew",
    "meter/kind": "meter_named",
    whole_flow: "section",
    start_bank: "tape",
  };
  for (const [what, missed] of Object.entries(taken)) {
    const { [what]: _, ...others } = WHOLE;
    assert.ok(where(others).includes(missed), what);
  }
});

test("where there is no staff gauge, neither stage nor its photo is asked for", () => {
  const { "stage/a": _a, "stage/b": _b, "photos/5": _c, ...others } = WHOLE;
  assert.deepEqual(where(others), ["stage", "photos"]);
  assert.deepEqual(where({ ...others, no_gauge: true }), []);
});

test("who stayed out misses who was there, the stage and the end, until something was read", () => {
  const out = { "wading/a": { safe: false, by: "I. Marrow", why: "brown and rising" } };
  assert.deepEqual(where(out), ["crew", "stage", "ended"]);
  const { "crew/a": crew, "stage/a": stage, ended } = WHOLE;
  assert.deepEqual(where({ ...out, "crew/a": crew!, "stage/a": stage!, ended: ended! }), []);
  assert.ok(where({ ...out, [`${V}/v/readings/1`]: { value: "0.4" } }).includes("meter_named"));
});

test("a meter of which nothing was said needs no proof", () => {
  const { "meter/kind": _a, "meter/checks/a": _b, ...others } = WHOLE;
  assert.deepEqual(where(others), ["meter_named"]);
});

test("before anything is computed it is said that questions cannot be told yet", () => {
  const [first] = missingOf({ folded: fold(entriesOf(WHOLE)), view: null });
  assert.match(first!.words, /cannot be told yet/);
});

test("what two devices differ on is missed first", () => {
  const folded = fold([...entriesOf(WHOLE), ...entriesOf({ quality: "fair" }, "b", 90)]);
  assert.equal(missingOf({ folded, view: null })[0]!.where, "conflicts");
});

test("a vertical that was taken out, or is dry, was not left unread", () => {
  const begun = (values: Record<string, Value>) =>
    begunOnly(channelsOf(fold(entriesOf(values)))).map(({ tape }) => tape);
  assert.deepEqual(begun({ [`${V}/a/tape`]: "3.0", [`${V}/b/tape`]: "5.0", [`${V}/b/dry`]: true }), ["3.0"]);
  assert.deepEqual(begun({ [`${V}/a/tape`]: null }), []);
});

test("the change of the level is told to the digits that were read", () => {
  const stages = stagesOf(fold(entriesOf(WHOLE)));
  assert.equal(changeWords(stages, "ft"), "The level is 0.02 ft lower than at first.");
  assert.equal(changeWords([...stages, { key: "c", value: "1.325", at: undefined }], "ft"), "The level is 0.005 ft higher than at first.");
  assert.equal(changeWords([stages[0]!, stages[0]!], "ft"), "The level is the same as at first.");
  assert.equal(changeWords(stages.slice(0, 1), "ft"), null);
});

test("stages stand in the order of their times, whichever was written first", () => {
  const { "stage/a": first, "stage/b": last } = WHOLE;
  const stages = stagesOf(fold(entriesOf({ "stage/b": last!, "stage/a": first! })));
  assert.deepEqual(stages.map(({ value }) => value), ["1.32", "1.30"]);
});

test("a rotor is spun, a meter without one is held in still water, else both are offered", () => {
  const kinds = (values: Record<string, Value>) => kindsFor(fold(entriesOf(values)));
  assert.deepEqual(kinds({ "meter/kind": "Cup, small" }), ["spin"]);
  assert.deepEqual(kinds({ "meter/kind": "electromagnetic" }), ["zero"]);
  assert.deepEqual(kinds({ "meter/rating": [{ slope: "1", intercept: "0" }] }), ["spin"]);
  assert.deepEqual(kinds({ "meter/kind": "new one" }), ["spin", "zero"]);
});
