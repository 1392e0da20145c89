/** A clock that is plainly wrong is told, with what to do; one that may be right is left alone. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { aheadOf, clockDoubt } from "./clock_doubt.ts";

const NOW = Date.parse("2026-07-14T10:05:00-07:00");
const MINUTE = 60_000;
const GOOD = { now: NOW, written: ["2026-07-14T10:00:00-07:00", "2026-07-14T10:09:00-07:00"], ahead: 4 * MINUTE };

test("a clock that is off by less than a network sets is not doubted", () => {
  assert.equal(clockDoubt(GOOD), null);
  assert.equal(clockDoubt({ now: NOW, written: [], ahead: null }), null);
});

test("each sign of a wrong clock is told with both times, and what to do", () => {
  const empty = clockDoubt({ ...GOOD, now: Date.parse("2020-01-03T10:05:00Z"), ahead: null });
  assert.match(empty!, /clock says 3 Jan 2020, .* not yet made: it is wrong\. Set date and time .* readings go on/);
  assert.match(clockDoubt({ ...GOOD, ahead: -6 * MINUTE })!, /the server's 14 Jul 2026, .*: one of them is wrong\./);
  const later = clockDoubt({ ...GOOD, written: [...GOOD.written, "2026-07-14T10:11:00-07:00", "no time"] });
  assert.match(later!, /an entry of this gauging was written on 14 Jul 2026, .* still to come/);
});

test("how long an answer was on its way makes no clock wrong", () => {
  const date = new Date(NOW).toUTCString();
  assert.equal(aheadOf(date, NOW - 10 * MINUTE, NOW + 10 * MINUTE), 0);
  assert.equal(aheadOf(date, NOW - 8 * MINUTE, NOW - 7 * MINUTE), 7 * MINUTE);
  assert.equal(aheadOf(date, NOW + 7 * MINUTE, NOW + 8 * MINUTE), -7 * MINUTE);
  assert.equal(aheadOf(null, NOW, NOW), null);
});
