import assert from "node:assert/strict";
import { test } from "node:test";

import { entryFault } from "./entry_check.ts";
import { instant } from "./entry.ts";

/** A moment as a device tells it whose zone is so many minutes west of UTC. */
function at(west: number): string {
  const date = new Date("2026-07-14T17:12:03.250Z");
  date.getTimezoneOffset = () => west;
  return instant(date);
}

test("an instant has the device's offset in whole minutes, in every zone", () => {
  assert.equal(at(420), "2026-07-14T10:12:03.250-07:00");
  assert.equal(at(-345), "2026-07-14T22:57:03.250+05:45");
  assert.equal(at(0), "2026-07-14T17:12:03.250+00:00");
  const former = at(44.5);
  assert.match(former, /-00:4[45]$/);
  assert.equal(Date.parse(former), Date.parse("2026-07-14T17:12:03.250Z"));
});

test("every instant is one that an entry may have", () => {
  const entry = { id: "a", gauging: "g", device: "d", sequence: 1, what: "remarks", value: "clear" };
  for (const west of [420, -345, 44.5, 0]) assert.equal(entryFault({ ...entry, at: at(west) }), null);
});
