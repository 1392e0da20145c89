import assert from "node:assert/strict";
import { test } from "node:test";

import {
  calledAmong,
  calledPlace,
  calledRow,
  clock,
  discharge,
  figures,
  offBy,
  offByOf,
  openFindings,
  toldApart,
  toMetres,
  unitDischarge,
} from "./shown.ts";
import { aRow } from "./testing.ts";

test("a figure has its digits with trailing zeros, and no power of ten", () => {
  assert.deepEqual([1.4, 0.07, 1234.5, 99.96, 0].map((value) => figures(value)), ["1.40", "0.0700", "1235", "100", "0"]);
  assert.equal(figures(-0.0256, 2), "-0.026");
});

test("a cubic metre a second is 35.3 cubic feet, a litre a second and km² 0.0915 ft³/s/mi²", () => {
  // NIST Special Publication 811, 2008, appendix B.8: 1 ft³/s is 2.831685E-02 m³/s.
  assert.deepEqual([discharge(1, "ft"), discharge(0.02831685, "ft"), discharge(1, "m")], ["35.3", "1.00", "1.00"]);
  // 1 mi² is 2.589988 km² there, so 35.31467e-3 ft³/s times 2.589988.
  assert.equal(unitDischarge(1, "ft"), "0.0915");
  assert.deepEqual([toMetres(1, "ft"), toMetres(12, "in")?.toFixed(4), toMetres(1, "fathom")], [0.3048, "0.3048", null]);
});

test("two discharges that differ are told to as many figures as it takes to see it", () => {
  assert.deepEqual(toldApart(3.04, 3.21, "m"), ["3.04 m³/s", "3.21 m³/s"]);
  assert.deepEqual(toldApart(3.0401, 3.0402, "m"), ["3.0401 m³/s", "3.0402 m³/s"]);
});

test("of two gaugings of one place and day the time of day is told", () => {
  const named = { site_stream: "Mere Water", site_name: "below", day: "2026-07-23" };
  const rows = [
    aRow({ ...named, id: "a", started: "2026-07-23T09:30:00+01:00" }),
    aRow({ ...named, id: "b", started: "2026-07-23T11:20:00+01:00" }),
    aRow({ ...named, id: "c", day: "2026-07-24", started: "2026-07-24T11:20:00+01:00" }),
  ];
  assert.deepEqual(
    rows.map((row) => calledAmong(row, rows)),
    ["Mere Water, below, 2026-07-23 09:30", "Mere Water, below, 2026-07-23 11:20", "Mere Water, below, 2026-07-24"],
  );
});

test("what is not known is a dash, and how far a discharge may be off is told", () => {
  assert.deepEqual([discharge(null, "m"), offBy(null), offBy(5.88)], ["–", "–", "± 5.9 %"]);
  assert.equal(offByOf(aRow({ in_doubt: true })), "not told, in doubt");
});

test("a gauging is called by the survey's names, else by its own, else by its id", () => {
  const named = aRow({ site_stream: "Mere Water", site_name: "at the pit", stream: "Mere", place: null, day: "2026-07-20" });
  assert.equal(calledRow(named), "Mere Water, at the pit, 2026-07-20");
  assert.equal(calledPlace(aRow({ stream: null, place: null, label: "AF-01" })), "AF-01");
  assert.equal(calledRow(aRow({ id: "0123456789", stream: null, place: null, day: "" })), "gauging 01234567");
});

test("the time of day is that of the device at the stream, whatever zone the desk is in", () => {
  assert.deepEqual([clock("2026-07-29T15:10:00-07:00"), clock(null)], ["15:10", ""]);
});

test("open findings of gaugings are summed by how grave they are", () => {
  const rows = [aRow({ open_stop: 1, open_explain: 2 }), aRow({ open_fix: 3, open_explain: 1 })];
  assert.deepEqual(openFindings(rows), { stop: 1, "fix now": 3, explain: 3, note: 0 });
});
