import assert from "node:assert/strict";
import { test } from "node:test";

import { aRow, aSurvey } from "./testing.ts";
import { calledSite, siteLines } from "./survey_sites.ts";

const SURVEY = aSurvey({
  sites: [
    { id: "tr", stream: "Tansy Run", name: "at the bridge", mouths_below: 1, planned: 2, visited: 2 },
    { id: "af", stream: "Alder Fork", name: "below the ford", mouths_below: 0, planned: 1, visited: 0 },
  ],
  rows: [
    aRow({ id: "a", site: "tr", day: "2026-07-20", discharge_m3s: 0.5, state: "to review", open_stop: 1 }),
    aRow({ id: "b", site: "tr", day: "2026-07-21", discharge_m3s: 0.4, state: "approved", open_explain: 2 }),
    aRow({ id: "c", site: "tr", day: "2026-07-22", discharge_m3s: null, state: "under way" }),
    aRow({ id: "d", site: null, day: "2026-07-23", discharge_m3s: 9 }),
  ],
});

test("a site's line has its last discharge, and counts what waits and what is open", () => {
  const [tansy, alder] = siteLines(SURVEY);
  assert.deepEqual([tansy!.order, tansy!.last?.id, tansy!.waiting, tansy!.open], [1, "b", 1, 3]);
  assert.deepEqual([alder!.order, alder!.last, alder!.waiting, alder!.open], [2, null, 0, 0]);
});

test("a site is called by its stream and name, one that is not of the survey by its id", () => {
  assert.equal(calledSite(SURVEY, "af"), "Alder Fork, below the ford");
  assert.equal(calledSite(SURVEY, "zz"), "zz");
});
