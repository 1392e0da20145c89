import assert from "node:assert/strict";
import { test } from "node:test";

import { figureFault, figureMeant, turned } from "./number_text.ts";

test("a figure is taken as typed, and nothing typed is no fault", () => {
  for (const text of ["1.0", "0", "0.35", "24.10", "", "  4.5 "]) assert.equal(figureFault(text), null);
});

test("a comma is refused in a sentence, and what it may have meant is only offered", () => {
  assert.match(figureFault("4,5")!, /“4,5” has a comma.*point/);
  assert.equal(figureMeant("4,5"), "4.5");
  assert.equal(figureMeant("1,234.5"), null);
});

test("what is written otherwise is refused, with the usual way of writing it offered", () => {
  for (const [typed, meant] of [[".8", "0.8"], ["4.", "4"], ["+3", "3"], ["−2.5", "-2.5"]] as const) {
    assert.notEqual(figureFault(typed, { signed: true }), null);
    assert.equal(figureMeant(typed), meant);
  }
  for (const typed of ["four", "1e3", "4 5", "0x1", "٤"]) {
    assert.notEqual(figureFault(typed), null);
    assert.equal(figureMeant(typed), null);
  }
});

test("a needless 0 in front may be a lost point, so that nothing is offered", () => {
  assert.match(figureFault("08")!, /a point may be missing/);
  assert.equal(figureMeant("08"), null);
});

test("signs and parts of ones are refused where they make no sense", () => {
  assert.match(figureFault("-1")!, /below 0/);
  assert.equal(figureFault("-1", { signed: true }), null);
  assert.match(figureFault("2.5", { whole: true })!, /no whole number/);
  assert.equal(figureFault("25", { whole: true }), null);
});

test("turning the sign twice gives the same figure", () => {
  assert.equal(turned("0.12"), "-0.12");
  assert.equal(turned(turned("0.12")), "0.12");
});
