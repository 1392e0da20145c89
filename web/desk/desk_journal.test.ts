import assert from "node:assert/strict";
import { test } from "node:test";

import { entry } from "../testing/journal.ts";
import { fold } from "../journal/fold.ts";
import { deskLines } from "./desk_journal.ts";

const DEPTH = "channels/1/verticals/v1/depth";
const SHEET = { device: "sheet-0123456789abcdef" };
const ENTRIES = [
  entry({ id: "a", ...SHEET, what: DEPTH, value: "1.0" }),
  entry({ id: "b", sequence: 2, device: "phone", what: DEPTH, value: "1.2", replaces: ["a"] }),
  entry({ id: "c", sequence: 2, device: "tablet", what: DEPTH, value: "1.3", replaces: ["a"] }),
  entry({ id: "d", sequence: 3, device: "desk", what: DEPTH, value: "1.3", replaces: ["b", "c"], reason: "the sheet says so" }),
  entry({ id: "e", sequence: 4, device: "desk", what: "review", value: { verdict: "approved", by: "R", state: "s" } }),
];

test("a line tells what stood there before, all of it where two devices differed", () => {
  const lines = deskLines(ENTRIES, fold(ENTRIES), "desk");
  const of = (id: string) => lines.find((line) => line.id === id)!;
  assert.deepEqual(["a", "b", "d"].map((id) => of(id).replaced), ["", "1.0", "1.2; and 1.3"]);
  assert.equal(of("d").reason, "the sheet says so");
});

test("what came from a sheet is called so, and devices are told apart", () => {
  const lines = deskLines(ENTRIES, fold(ENTRIES), "desk");
  const from = (id: string) => lines.find((line) => line.id === id)!.from;
  assert.equal(from("a"), "the sheet");
  assert.equal(from("d"), "this device");
  assert.notEqual(from("b"), from("c"));
});

test("a first word is no change, one in place of another is, and so is a review", () => {
  const changes = deskLines(ENTRIES, fold(ENTRIES), "desk").filter(({ change }) => change);
  assert.deepEqual(changes.map(({ id }) => id), ["b", "c", "d", "e"]);
  assert.equal(changes.at(-1)!.words, "approved");
});
