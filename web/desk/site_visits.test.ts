import assert from "node:assert/strict";
import { test } from "node:test";

import type { DeskSite } from "./asking/answers.ts";
import { calledVisit, overlaid, series } from "./site_visits.ts";
import { aRow } from "./testing.ts";

const visit = (id: string, more: Parameters<typeof aRow>[0]) => ({ ...aRow({ id, ...more }), record: null });
const VISITS = [
  visit("late", { day: "2026-07-29", started: "2026-07-29T15:10:00-07:00", discharge_m3s: 1, stage: 2.5, stage_unit: "ft" }),
  visit("noon", { day: "2026-07-29", started: "2026-07-29T12:00:00-07:00", discharge_m3s: null }),
  visit("first", { day: "2026-07-20", discharge_m3s: 0.02831684659, width_m: 3.048 }),
];
const SITE: DeskSite = {
  site: { id: "AF-01", stream: "Alder Fork", name: "below the ford" },
  surveys: [],
  visits: VISITS,
  sections: ["late", "first"].map((gauging) => ({ gauging, zero_bank: "left", channels: [] })),
  photos: [],
  comparisons: [],
};

test("a visit is called by its day, two on one day by their times as well", () => {
  assert.deepEqual(VISITS.map((one) => calledVisit(one, VISITS)), ["2026-07-29 15:10", "2026-07-29 12:00", "2026-07-20"]);
});

test("sections come the first visit first, a stage in metres, a visit without a section not at all", () => {
  assert.deepEqual(overlaid(SITE).map(({ gauging, stage_m }) => [gauging, stage_m]), [
    ["first", null],
    ["late", 0.762],
  ]);
});

test("figures through time are in the person's unit; what no visit tells is left out", () => {
  const feet = series(SITE, "ft");
  assert.deepEqual(feet.map(({ name }) => name), ["Discharge, ft³/s", "Width, ft", "Stage, ft"]);
  const texts = feet.map(({ moments }) => moments.map(({ id, text }) => `${id} ${text}`).join(", "));
  assert.deepEqual(texts, ["late 35.3, first 1.00", "first 10.0", "late 2.5"]);
});
