import assert from "node:assert/strict";
import { test } from "node:test";

import { fold } from "../../journal/fold.ts";
import { entriesOf } from "../../testing/entries.ts";
import { checkIn, checkSaying, daySayings, memberIn, memberSaying, momentSaying, stageSaying, stagesIn, timeIn } from "./said_header.ts";

const SHEET = fold(
  entriesOf({
    date: "2026-07-14",
    started: "2026-07-14T10:05:00.000-07:00",
    "crew/c1": { name: "J. Ostrander", role: "recorder, leader" },
    "stage/s1": { value: "2.10", at: "2026-07-14T10:00:00.000-07:00" },
    "meter/checks/m1": { kind: "spin", when: "before", seconds: "95" },
  }),
);

test("who did what is found by the role, and another name keeps the roles", () => {
  assert.deepEqual(["rod", "recorder", "leader"].map((role) => memberIn(SHEET, role)), ["", "J. Ostrander", "J. Ostrander"]);
  assert.deepEqual(memberSaying(SHEET, "leader", "I. Marrow"), {
    what: "crew/c1",
    value: { name: "I. Marrow", role: "recorder, leader" },
  });
  assert.deepEqual(memberSaying(SHEET, "rod", "I. Marrow"), { what: "crew/rod", value: { name: "I. Marrow", role: "rod" } });
});

test("a time counts on the day of the sheet, and is not taken without a day", () => {
  const saying = momentSaying(SHEET, "ended", "11:30");
  assert.equal(timeIn(String(saying?.value)), "11:30");
  assert.ok(String(saying?.value).startsWith("2026-07-14T"));
  assert.equal(momentSaying(fold([]), "ended", "11:30"), null);
  assert.deepEqual(momentSaying(SHEET, "started", ""), { what: "started", value: null });
});

test("another day takes the times of the sheet along", () => {
  const said = new Map(daySayings(SHEET, "2026-07-15").map(({ what, value }) => [what, value]));
  assert.equal(said.get("date"), "2026-07-15");
  assert.match(String(said.get("started")), /^2026-07-15T10:05/);
  assert.match(JSON.stringify(said.get("stage/s1")), /"value":"2\.10","at":"2026-07-15T10:00/);
});

test("stages and checks of the meter stand as they were written", () => {
  assert.deepEqual(stagesIn(SHEET), [
    { key: "s1", value: "2.10", time: "10:00" },
    { key: "s2", value: "", time: "" },
  ]);
  assert.equal(stageSaying(SHEET, "s1", "", "10:00").value, null);
  assert.equal(checkIn(SHEET, "spin", "before"), "95");
  assert.deepEqual(checkSaying(SHEET, "spin", "before", "90"), {
    what: "meter/checks/m1",
    value: { kind: "spin", when: "before", seconds: "90" },
  });
  assert.deepEqual(checkSaying(SHEET, "zero", "after", "0.00"), {
    what: "meter/checks/zero-after",
    value: { kind: "zero", when: "after", value: "0.00" },
  });
});
