import assert from "node:assert/strict";
import { test } from "node:test";

import type { Entry } from "../journal/entry.ts";
import type { GaugingSummary, Store } from "../journal/store_contract.ts";
import { lastVisitOf } from "./last_visit.ts";
import { knownPlaces } from "./places_known.ts";

function summary(id: string, site: string, started: string): GaugingSummary {
  return {
    id,
    stream: "Alder Fork",
    site,
    begun: started,
    started,
    entries: 1,
    closed: true,
    whereabouts: "exported",
    waiting: { entries: 1, photos: 0 },
    review: null,
  };
}

function holding(...gaugings: GaugingSummary[]): Store {
  const entry: Entry = {
    id: "e",
    gauging: "g",
    device: "d",
    sequence: 1,
    at: "2026-07-14T10:00:00-07:00",
    what: "site/stream",
    value: "Alder Fork",
  };
  return {
    gaugings: () => Promise.resolve(gaugings),
    entries: (gauging: string) => Promise.resolve([{ ...entry, gauging }]),
  } as unknown as Store;
}

const HERE = { stream: "Alder Fork", site: "above the footbridge" };
const OPEN = summary("open", HERE.site, "2026-07-14T10:00:00-07:00");

test("the last visit is the latest one before the gauging that is open, at the same place", async () => {
  const store = holding(
    OPEN,
    summary("old", HERE.site, "2024-07-14T10:00:00-07:00"),
    summary("last", " Above  the footbridge", "2025-08-02T09:00:00-07:00"),
    summary("later", HERE.site, "2026-09-01T09:00:00-07:00"),
    summary("elsewhere", "below the weir", "2026-07-01T09:00:00-07:00"),
  );
  assert.equal((await lastVisitOf(store, HERE, "open"))?.summary.id, "last");
});

test("a place without a name has no last visit", async () => {
  const store = holding(OPEN, summary("old", HERE.site, "2024-07-14T10:00:00-07:00"));
  assert.equal(await lastVisitOf(store, { ...HERE, site: undefined }, "open"), null);
  assert.equal(await lastVisitOf(store, { ...HERE, site: " " }, "open"), null);
});

test("every place is known once, by its last visit, the latest visited first", async () => {
  const store = holding(
    OPEN,
    summary("old", HERE.site, "2024-07-14T10:00:00-07:00"),
    summary("weir", "below the weir", "2026-07-01T09:00:00-07:00"),
    summary("last", HERE.site, "2025-08-02T09:00:00-07:00"),
  );
  const known = await knownPlaces(store, "open");
  assert.deepEqual(known.map((visit) => visit.summary.id), ["weir", "last"]);
});
