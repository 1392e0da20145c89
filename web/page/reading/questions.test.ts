import assert from "node:assert/strict";
import { test } from "node:test";

import type { FindingView, Severity, View } from "../view.ts";
import { questionsAt } from "./questions.ts";

function finding(key: string, severity: Severity, verticals: string[], more: Partial<FindingView> = {}) {
  return { key, severity, verticals, open: true, comes_out: false, leader_decides: false, instead: null, ...more } as FindingView;
}

function at(findings: FindingView[], ...verticals: (string | undefined)[]) {
  const { here, elsewhere } = questionsAt({ findings, faults: [] } as unknown as View, verticals);
  return [here.map(({ key }) => key), elsewhere];
}

test("questions about the present and the last vertical are put, the gravest first", () => {
  const findings = [
    finding("a", "explain", ["v1"]),
    finding("b", "fix now", ["v2", "v1"]),
    finding("c", "fix now", ["v9"]),
  ];
  assert.deepEqual(at(findings, "v1", undefined), [["b", "a"], 1]);
});

test("what calls the crew out of the water is put wherever it was read, before all else", () => {
  const findings = [
    finding("a", "fix now", ["v1"]),
    finding("b", "stop", ["v9"]),
    finding("c", "explain", [], { comes_out: true }),
  ];
  assert.deepEqual(at(findings, "v1"), [["b", "c", "a"], 0]);
});

test("answered findings are not put again", () => {
  assert.deepEqual(at([finding("a", "stop", ["v1"], { open: false })], "v1"), [[], 0]);
});

test("without an engine nothing is asked", () => {
  assert.deepEqual(questionsAt(null, ["v1"]), { here: [], elsewhere: 0, faults: [] });
});

test("what is only incomplete at the vertical under way is asked once it is left, a slip at once", () => {
  const slip = { what: "", value: "1.05", was: "10.5", write: "1.05" };
  const findings = [
    finding("one of two", "explain", ["v1"]),
    finding("slip", "fix now", ["v1"], { instead: slip }),
    finding("deep", "explain", ["v1"], { leader_decides: true }),
    finding("stop", "stop", ["v1"]),
  ];
  const view = { findings, faults: [] } as unknown as View;
  const keys = (underWay?: string) => questionsAt(view, ["v1"], underWay).here.map(({ key }) => key);
  assert.deepEqual(keys("v1"), ["stop", "slip", "deep"]);
  assert.deepEqual(keys(), ["stop", "slip", "one of two", "deep"]);
});
