/** A gauging is closed by somebody, with its figure as shown, and never silently over open findings. */

import assert from "node:assert/strict";
import { test } from "node:test";

import type { Value } from "../journal/entry.ts";
import { fold } from "../journal/fold.ts";
import { entriesOf } from "../testing/entries.ts";
import { closedOf, closingFault, closingSayings, likelyOutcome, whyStayedOut, type Closing, type Standing } from "./closing.ts";
import type { FindingView, Severity, View } from "./view.ts";

const CLOSING: Closing = { outcome: "measured", by: "J. Ostrander", why: "", leftOpen: "", unseen: false };
const ENDED = { ended: "2026-07-14T10:52:00-07:00" };

function finding(severity: Severity): FindingView {
  return {
    key: severity,
    check: "Depth stands out",
    severity,
    found: "At 14.5 ft the depth is 10.5 ft.",
    advice: "",
    channel: null,
    verticals: [],
    tapes: [],
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
  };
}

function standing(said: Record<string, Value>, findings: FindingView[] = [], more: Partial<Standing> = {}): Standing {
  const result = { discharge: "12.3", discharge_unit: "ft³/s" };
  const view = { findings, result, no_result: null } as unknown as View;
  return { folded: fold(entriesOf(said)), view, fresh: true, computing: true, ...more };
}

const closed = (closing: Partial<Closing>, at: Standing) => {
  let made = 0;
  return closingSayings({ ...CLOSING, ...closing }, at, () => `a${++made}`);
};

test("it is closed by a name with the discharge as shown", () => {
  const at = standing(ENDED);
  assert.equal(closingFault(CLOSING, at), null);
  assert.deepEqual(closed({ by: " J. Ostrander " }, at), [
    { what: "closed", value: { by: "J. Ostrander", discharge: "12.3 ft³/s" }, by: "J. Ostrander" },
  ]);
});

test("each thing that is needed is asked for in its own sentence", () => {
  const whole = standing(ENDED);
  const cases: [Partial<Closing>, Standing, RegExp][] = [
    [{ outcome: undefined }, whole, /what came out/],
    [{ by: " " }, whole, /who signs/],
    [{ outcome: "no flow" }, whole, /what was seen/],
    [{ outcome: "not measured" }, whole, /why it could not be measured/],
    [{}, standing({}), /when the gauging ended/],
    [{}, standing(ENDED, [], { fresh: false }), /still being worked out/],
    [{}, standing(ENDED, [], { view: null, fresh: false, computing: false }), /Nothing is computed/],
    [{}, standing(ENDED, [finding("stop")]), /findings open/],
    [{}, standing(ENDED, [finding("fix now")]), /findings open/],
  ];
  for (const [closing, at, sentence] of cases) {
    assert.match(closingFault({ ...CLOSING, ...closing }, at) ?? "", sentence);
  }
});

test("readings that give no discharge are not closed as measured", () => {
  const at = standing(ENDED);
  const none = { ...at, view: { ...at.view!, result: null, no_result: "There is no discharge, as nothing was read." } };
  assert.match(closingFault(CLOSING, none)!, /^There is no discharge, as nothing was read\. Complete/);
  assert.equal(closingFault({ ...CLOSING, outcome: "not measured", why: "flood" }, none), null);
});

test("without figures it is closed only by a word of its own, and with no discharge", () => {
  const at = standing(ENDED, [], { view: null, fresh: false, computing: false });
  assert.equal(closingFault({ ...CLOSING, unseen: true }, at), null);
  assert.deepEqual(closed({ unseen: true }, at)[0]!.value, { by: "J. Ostrander" });
});

test("findings to explain do not hold it up; grave ones are answered with the reason given", () => {
  const at = standing(ENDED, [finding("explain"), finding("fix now"), finding("note")]);
  assert.equal(closingFault({ ...CLOSING, leftOpen: "dark" }, at), null);
  const [answer, last, ...others] = closed({ leftOpen: " dark " }, at);
  assert.deepEqual(answer, {
    what: "answers/a1",
    value: {
      check: "Depth stands out",
      finding: "At 14.5 ft the depth is 10.5 ft.",
      severity: "fix now",
      reason: "Left open: dark",
    },
    by: "J. Ostrander",
  });
  assert.equal(last!.reason, "dark");
  assert.deepEqual(others, []);
});

test("no flow and no measurement are results, with their reason behind the remarks", () => {
  const at = standing({ ...ENDED, remarks: "Hot day." });
  const [remark, last] = closed({ outcome: "no flow", why: "pools stand" }, at);
  assert.deepEqual([remark!.what, remark!.value], ["remarks", "Hot day.\nNo flow: pools stand"]);
  assert.deepEqual(last, {
    what: "closed",
    value: { by: "J. Ostrander", discharge: "no flow" },
    by: "J. Ostrander",
    reason: "pools stand",
  });
  const again = standing({ ...ENDED, remarks: "Could not be measured: flood" });
  const [kept, end] = closed({ outcome: "not measured", why: "flood" }, again);
  assert.equal(kept!.value, "Could not be measured: flood");
  assert.deepEqual(end!.value, { by: "J. Ostrander" });
});

test("a closed gauging tells by whom and with what; one opened again does not", () => {
  const folded = fold(entriesOf({ closed: { by: "J. Ostrander", discharge: "12.3 ft³/s" } }));
  assert.deepEqual([closedOf(folded)!.by, closedOf(folded)!.discharge], ["J. Ostrander", "12.3 ft³/s"]);
  assert.equal(closedOf(fold(entriesOf({ closed: null }))), null);
});

test("readings speak for a measurement; where there are none nobody guesses", () => {
  const reading = "channels/1/verticals/v/readings/r";
  assert.equal(likelyOutcome(fold(entriesOf({ [reading]: { value: "0.8" } }))), "measured");
  assert.equal(likelyOutcome(fold(entriesOf({ [reading]: null }))), undefined);
  const out = { "wading/w": { safe: false, by: "J. Ostrander" } };
  assert.equal(likelyOutcome(fold(entriesOf(out))), "not measured");
  assert.equal(likelyOutcome(fold(entriesOf({ ...out, [reading]: { value: "0.8" } }))), "measured");
});

test("the reason to stay out is that of the closing, as long as it is decided so", () => {
  const out = { "wading/a": { safe: false, by: "I. Marrow", why: "brown and rising" } };
  assert.equal(whyStayedOut(fold(entriesOf(out))), "brown and rising");
  assert.equal(whyStayedOut(fold(entriesOf({ ...out, "wading/b": { safe: true, by: "I. Marrow" } }))), "");
});
