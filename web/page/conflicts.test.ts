/** Where two devices differ, both are shown, and one entry settles it. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { fold } from "../journal/fold.ts";
import { entriesOf } from "../testing/entries.ts";
import { conflictsOf, settled } from "./conflicts.ts";

const V = "channels/1/verticals/v1";
const SHARED = entriesOf({ [`${V}/tape`]: "14.5" });
const HERE = entriesOf({ [`${V}/depth`]: "1.05" }, "here-1", 2);
const THERE = entriesOf({ [`${V}/depth`]: "1.50" }, "phone-2", 2).map((entry) => ({
  ...entry,
  by: "I. Marrow",
}));

test("both values are told with who said them, and which one counts meanwhile", () => {
  const [conflict, ...others] = conflictsOf(fold([...SHARED, ...HERE, ...THERE]), "here-1");
  assert.deepEqual(others, []);
  assert.equal(conflict!.thing, "depth at tape 14.5");
  assert.deepEqual(
    conflict!.choices.map(({ words, taken, said }) => [words, taken, said[0]!.device, said[0]!.by]),
    [
      ["1.05", false, "this device", "nobody named"],
      ["1.50", true, "device PHON", "I. Marrow"],
    ],
  );
});

test("devices that said the same are no conflict", () => {
  const same = THERE.map((entry) => ({ ...entry, value: "1.05" }));
  assert.deepEqual(conflictsOf(fold([...SHARED, ...HERE, ...same]), "here-1"), []);
});

test("the entry that settles it says which was not taken, and ends the conflict", () => {
  const entries = [...SHARED, ...HERE, ...THERE];
  const folded = fold(entries);
  const [conflict] = conflictsOf(folded, "here-1");
  const saying = settled(conflict!, conflict!.choices[0]!);
  assert.deepEqual(saying, {
    what: `${V}/depth`,
    value: "1.05",
    reason: "two devices differed; this one holds, not 1.50",
  });
  const heads = folded.get(`${V}/depth`)!.heads.map(({ id }) => id);
  const said = { ...HERE[0]!, id: "s", sequence: 3, value: saying.value, replaces: heads };
  assert.deepEqual(conflictsOf(fold([...entries, said]), "here-1"), []);
});
