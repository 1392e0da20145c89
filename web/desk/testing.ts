/** Answers of the office for tests: an invented survey, changed where the test says. */

import type { DeskSurvey, Row } from "./asking/answers.ts";

export function aRow(changed: Partial<Row>): Row {
  return {
    id: "g",
    survey: "basin-2026",
    site: null,
    stream: "Alder Fork",
    place: "below the ford",
    label: null,
    site_stream: null,
    site_name: null,
    day: "2026-07-20",
    started: null,
    ended: null,
    state: "to review",
    crew: null,
    meter: null,
    calibration_due: null,
    proven: false,
    over: true,
    verticals: 20,
    discharge_m3s: 1,
    width_m: null,
    area_m2: null,
    mean_depth_m: null,
    mean_velocity_ms: null,
    stage: null,
    stage_unit: null,
    standard_percent: null,
    expanded_percent: null,
    in_doubt: false,
    quality: null,
    repeats: null,
    open_stop: 0,
    open_fix: 0,
    open_explain: 0,
    conflicts: 0,
    photos: 0,
    entries: 10,
    trouble: null,
    ...changed,
  };
}

export function aSurvey(changed: Partial<DeskSurvey>): DeskSurvey {
  return {
    survey: { id: "basin-2026", name: "An invented basin" },
    sites: [],
    order_remarks: [],
    rows: [],
    findings: [],
    duplicates: {
      share: { visits: 0, duplicated: 0, percent: null, target_percent: null, missing: 0, words: "" },
      groups: [],
    },
    balances: [],
    meters: [],
    counts: { by_state: {}, open: {}, sites: 0, visited: 0 },
    ...changed,
  };
}
