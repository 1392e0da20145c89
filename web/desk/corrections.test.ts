import assert from "node:assert/strict";
import { test } from "node:test";

import { fold } from "../journal/fold.ts";
import { channelsOf } from "../page/section.ts";
import { entriesOf } from "../testing/entries.ts";
import { figuresOf, headerSaying, headerThings, rewritten } from "./corrections.ts";

const AT = "channels/1/verticals/v1";
const FOLDED = fold(
  entriesOf({
    "site/stream": "Alder Fork",
    [`${AT}/tape`]: "4.50",
    [`${AT}/depth`]: "1.0",
    [`${AT}/readings/r1`]: { value: "0.83", fraction: 0.6, seconds: "40" },
    "stage/s1": { value: "2.10", at: "2026-07-14T10:00:00-07:00" },
  }),
);
const FIGURES = figuresOf(channelsOf(FOLDED)[0]!.verticals[0]!);

test("only what was written anew is said, to the digit, with its reason", () => {
  const typed = FIGURES.map(({ value }) => value);
  assert.deepEqual(rewritten(FOLDED, FIGURES, typed, "as on the sheet"), []);
  const said = rewritten(FOLDED, FIGURES, ["4.50", "1.00", "0.83", "40"], "as on the sheet");
  assert.deepEqual(said, [{ what: `${AT}/depth`, value: "1.00", reason: "as on the sheet" }]);
});

test("of a velocity one member changes and the others stay, two in one entry", () => {
  const one = rewritten(FOLDED, FIGURES, ["4.50", "1.0", "0.38", "40"], "r");
  assert.deepEqual(one[0]!.value, { fraction: 0.6, seconds: "40", value: "0.38" });
  const both = rewritten(FOLDED, FIGURES, ["4.50", "1.0", "0.38", ""], "r");
  assert.deepEqual(both.map(({ value }) => value), [{ fraction: 0.6, value: "0.38" }]);
});

test("an emptied figure is taken out, and a velocity takes its seconds along", () => {
  const said = rewritten(FOLDED, FIGURES, ["4.50", "", "", "60"], "r");
  assert.deepEqual(said.map(({ what, value }) => [what, value]), [
    [`${AT}/depth`, null],
    [`${AT}/readings/r1`, null],
  ]);
});

test("the header offers what stands and what may, and a stage keeps its time", () => {
  const things = headerThings(FOLDED);
  const of = (what: string) => things.find((thing) => thing.what === what)!;
  assert.deepEqual([of("site/stream").value, of("site/id").value, of("stage/s1").value], ["Alder Fork", "", "2.10"]);
  assert.deepEqual(headerSaying(FOLDED, of("stage/s1"), "2.01", "turned digits").value, {
    at: "2026-07-14T10:00:00-07:00",
    value: "2.01",
  });
  assert.equal(headerSaying(FOLDED, of("site/stream"), " ", "r").value, null);
  assert.equal(headerSaying(FOLDED, of("site/id"), "AF-01", "r").value, "AF-01");
});
