import assert from "node:assert/strict";
import { test } from "node:test";

import { gaugingChoices } from "./gauging_choices.ts";
import { deskPlace, surveyHref } from "./places.ts";
import { aRow, aSurvey } from "./testing.ts";

const SURVEY = aSurvey({
  rows: [
    aRow({ id: "a", state: "to review", open_fix: 1 }),
    aRow({ id: "b", state: "changed since approval", open_explain: 2 }),
    aRow({ id: "c", state: "to review" }),
  ],
  meters: [
    { serial: "7", kind: null, calibration_due: null, gaugings: ["a", "c"], overdue: ["c"], unproven: [] },
    { serial: "8", kind: null, calibration_due: null, gaugings: ["b"], overdue: [], unproven: ["b"] },
  ],
});

test("gaugings are chosen by state, by what is open, and by what their meter lacks", () => {
  const chosen = gaugingChoices(SURVEY).map(({ which, rows }) => [which, rows.map(({ id }) => id).join()]);
  assert.deepEqual(
    chosen.filter(([, ids]) => ids !== ""),
    [
      ["to-review", "a,c"],
      ["changed-since-approval", "b"],
      ["fix-now", "a"],
      ["explain", "b"],
      ["overdue", "c"],
      ["unproven", "b"],
    ],
  );
});

test("an address that chooses leads to its place again", () => {
  for (const [part, which] of [
    ["gaugings", "to-review"],
    ["checks", "meters"],
    ["sites", "all"],
    ["sites", ""],
  ] as const) {
    const path = surveyHref("basin 2026", part, which).split("/").slice(2).map(decodeURIComponent);
    assert.deepEqual(deskPlace(path), { at: "survey", id: "basin 2026", part, which });
  }
});
