/** The journal is read in order, and what no longer holds is seen to be struck. */

import assert from "node:assert/strict";
import { test } from "node:test";

import type { Entry } from "../journal/entry.ts";
import { fold } from "../journal/fold.ts";
import { entriesOf } from "../testing/entries.ts";
import { journalLines } from "./journal_lines.ts";

const V = "channels/1/verticals/v1";

function lines(entries: Entry[]) {
  return journalLines(entries, fold(entries), "a");
}

test("a figure that was written again is struck, the new one holds with its reason", () => {
  const first = entriesOf({ [`${V}/tape`]: "14.5", [`${V}/depth`]: "1.5" });
  const again: Entry = {
    ...first[1]!,
    id: "a3",
    sequence: 3,
    value: "1.05",
    reason: "misheard",
    by: "J. Ostrander",
    replaces: ["a2"],
  };
  assert.deepEqual(
    lines([again, ...first]).map(({ thing, words, standing, reason, by }) => [thing, words, standing, reason, by]),
    [
      ["tape position", "14.5", "holds", undefined, undefined],
      ["depth at tape 14.5", "1.5", "struck", undefined, undefined],
      ["depth at tape 14.5", "1.05", "holds", "misheard", "J. Ostrander"],
    ],
  );
});

test("what two devices say differently is marked on both lines", () => {
  const entries = [...entriesOf({ quality: "good" }), ...entriesOf({ quality: "fair" }, "b")];
  assert.deepEqual(
    lines(entries).map(({ standing, device }) => [standing, device]),
    [
      ["two say", "this device"],
      ["two say", "device B"],
    ],
  );
});

test("the device is told only where several wrote", () => {
  assert.deepEqual(lines(entriesOf({ quality: "good" })).map(({ device }) => device), [undefined]);
});

test("an entry that takes something out holds as such", () => {
  const first = entriesOf({ remarks: "weed" });
  const out: Entry = { ...first[0]!, id: "a2", sequence: 2, value: null, replaces: ["a1"] };
  assert.deepEqual(
    lines([...first, out]).map(({ standing, out }) => [standing, out]),
    [
      ["struck", false],
      ["holds", true],
    ],
  );
});

test("devices whose names begin alike are told apart", () => {
  const entries = [...entriesOf({ quality: "good" }, "phone1"), ...entriesOf({ remarks: "weed" }, "phone2")];
  assert.deepEqual(lines(entries).map(({ device }) => device), ["device PHONE1", "device PHONE2"]);
});
