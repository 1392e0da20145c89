import assert from "node:assert/strict";
import { test } from "node:test";

import type { Field } from "../sync/contract.ts";
import { entriesOf } from "../testing/entries.ts";
import type { Engine } from "./engine_contract.ts";
import type { LastVisit } from "./last_visit.ts";
import { laterOf, officeVisitOf } from "./office_visit.ts";

const field: Field = {
  surveys: [{ id: "s", name: "Summer", sites: [{ id: "af1", stream: "Alder Fork", name: "footbridge" }] }],
  visits: { af1: { id: "g1", day: "2026-06-01", record: { format: "bankside.gauging/1" } } },
};
const SAID = { id: "af1", stream: undefined, site: undefined };
const OPEN = { id: "open", started: "2026-07-14T10:00:00-07:00" };
const asked: unknown[] = [];
const engine = {
  ask: async (request: unknown) => {
    asked.push(request);
    return { ok: true, entries: entriesOf({ "site/stream": "Alder Fork" }) };
  },
} as unknown as Engine;

test("a visit that the office knows is laid beside as entries", async () => {
  const visit = await officeVisitOf(field, SAID, OPEN, engine);
  assert.equal(visit?.from, "office");
  assert.deepEqual(visit.summary, { id: "g1", stream: "Alder Fork", site: "footbridge" });
  assert.equal(visit.folded.get("site/stream")?.value, "Alder Fork");
  assert.deepEqual((asked[0] as { record: unknown }).record, { format: "bankside.gauging/1" });
});

test("no visit is that of an unknown site, the gauging itself, or a later one", async () => {
  assert.equal(await officeVisitOf(null, SAID, OPEN, engine), null);
  assert.equal(await officeVisitOf(field, { ...SAID, id: "af9" }, OPEN, engine), null);
  assert.equal(await officeVisitOf(field, SAID, { ...OPEN, id: "g1" }, engine), null);
  assert.equal(await officeVisitOf(field, SAID, { ...OPEN, started: "2026-05-01T10:00:00Z" }, engine), null);
});

test("a record that the engine refuses is told", async () => {
  const refusing = { ask: async () => ({ ok: false, faults: [{ message: "no" }] }) } as unknown as Engine;
  await assert.rejects(officeVisitOf(field, SAID, OPEN, refusing), /^Error: no$/);
});

test("the later visit counts, and of one gauging that on the device", () => {
  const visit = (id: string, at: string, from: "device" | "office") =>
    ({ summary: { id }, at, from }) as unknown as LastVisit;
  const [own, office] = [visit("a", "2026-05-01T10:00:00Z", "device"), visit("b", "2026-06-01T10:00:00Z", "office")];
  assert.equal(laterOf(own, office), office);
  assert.equal(laterOf(own, null), own);
  assert.equal(laterOf(null, office), office);
  assert.equal(laterOf(own, visit("c", "2026-04-01T10:00:00Z", "office")), own);
  assert.equal(laterOf(own, { ...office, summary: own.summary }), own);
});
