/** What is done about a finding goes into the journal as it has to. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { fold } from "../../journal/fold.ts";
import { entriesOf } from "../../testing/entries.ts";
import type { FindingView, Severity } from "../view.ts";
import { answered, answerFault, answerWhat, fixed, inserted, openWords, sorted } from "./findings.ts";

const V = "channels/1/verticals/v1";

function finding(severity: Severity, more: Partial<FindingView> = {}): FindingView {
  return {
    key: "k",
    check: "Depth stands out",
    severity,
    found: "At 14.5 ft the depth is 10.5 ft.",
    advice: "Read it again.",
    channel: "1",
    verticals: ["v1"],
    tapes: [14.5],
    rule: "",
    source: "",
    rules: [],
    instead: null,
    places: [],
    answer: null,
    open: severity !== "note",
    comes_out: false,
    leader_decides: false,
    hangs_on: null,
    ...more,
  };
}

test("what calls the crew out stands first, then by severity; notes ask for nothing", () => {
  const rising = finding("explain", { key: "rising", comes_out: true });
  const done = finding("stop", { key: "done", open: false, answer: { reason: "seen", by: null } });
  const all = [finding("note"), finding("explain"), done, finding("fix now"), rising, finding("stop")];
  const { open, answered, notes } = sorted(all);
  assert.deepEqual(
    open.map(({ severity, comes_out }) => [severity, comes_out]),
    [
      ["explain", true],
      ["stop", false],
      ["fix now", false],
      ["explain", false],
    ],
  );
  assert.deepEqual([answered.map(({ key }) => key), notes.length], [["done"], 1]);
  assert.equal(openWords(all), "1 stop, 1 fix now, 2 to explain");
});

test("a slip stands before the stop that goes with it, and after one that does not", () => {
  const instead = { what: `${V}/depth`, value: "1.05", was: "10.5", write: "1.05" };
  const slip = finding("fix now", { key: "slip", instead });
  const deep = finding("stop", { key: "deep", hangs_on: "It goes if the depth is 1.05 ft." });
  const steep = finding("stop", { key: "out", comes_out: true });
  assert.deepEqual(
    sorted([deep, slip, steep]).open.map(({ key }) => key),
    ["out", "slip", "deep"],
  );
  assert.deepEqual(
    sorted([finding("fix now", { key: "other" }), slip, finding("stop", { key: "stop" })]).open.map(({ key }) => key),
    ["stop", "slip", "other"],
  );
});

test("stop and fix now are answered by somebody with a name, and nothing without a reason", () => {
  assert.match(answerFault("explain", "  ", "J. Ostrander")!, /why it is right/);
  assert.match(answerFault("stop", "seen", " ")!, /who answers/);
  assert.match(answerFault("fix now", "seen", "")!, /who answers/);
  assert.equal(answerFault("explain", "seen", ""), null);
  assert.equal(answerFault("stop", "seen", "J. Ostrander"), null);
});

test("an answer names the finding word for word, and one to the same finding takes its place", () => {
  const asked = finding("fix now");
  const saying = answered(fold([]), asked, { reason: " seen ", by: "I. Marrow" }, "a1");
  assert.deepEqual(saying, {
    what: "answers/a1",
    value: {
      check: "Depth stands out",
      finding: "At 14.5 ft the depth is 10.5 ft.",
      severity: "fix now",
      reason: "seen",
    },
    by: "I. Marrow",
  });
  const folded = fold(entriesOf({ [saying.what]: saying.value }));
  assert.equal(answerWhat(folded, asked), "answers/a1");
  assert.equal(answered(folded, asked, { reason: "again", by: "" }, "a2").what, "answers/a1");
  assert.equal(answerWhat(folded, finding("stop")), null);
});

test("the fix says the whole value with the figure that was meant, and why", () => {
  const what = `${V}/readings/r1`;
  const write = { value: "0.81", fraction: 0.6, seconds: "40" };
  const asked = finding("fix now", { instead: { what, value: "0.81", was: "8.1", write } });
  const now = fold(entriesOf({ [what]: { value: "8.1", fraction: 0.6, seconds: "42" } }));
  assert.deepEqual(fixed(now, asked), {
    what,
    value: { ...write, seconds: "42" },
    reason: "Depth stands out: taken as proposed",
  });
  assert.equal(fixed(now, finding("stop")), null);
});

test("a figure that was corrected since is not overwritten by a fix", () => {
  const depth = { what: `${V}/depth`, value: "1.05", was: "10.5", write: "1.05" };
  const asked = finding("fix now", { instead: depth });
  assert.equal(fixed(fold(entriesOf({ [depth.what]: "10.5" })), asked)?.value, "1.05");
  assert.equal(fixed(fold(entriesOf({ [depth.what]: "1.15" })), asked), null);
  const what = `${V}/readings/r1`;
  const write = { value: "0.81", fraction: 0.6 };
  const velocity = finding("fix now", { instead: { what, value: "0.81", was: "8.1", write } });
  assert.equal(fixed(fold(entriesOf({ [what]: { value: "0.8", fraction: 0.6 } })), velocity), null);
});

test("a vertical is begun between others once, however its position is written", () => {
  const spot = { channel: "1", tape: "14.50" };
  assert.deepEqual(inserted(fold(entriesOf({ [`${V}/tape`]: "14.5" })), spot, "v9"), []);
  assert.deepEqual(inserted(fold([]), spot, "v9"), [
    { what: "channels/1/verticals/v9/tape", value: "14.50" },
    { what: "channels/1/verticals/v9/inserted", value: true },
  ]);
});
