import assert from "node:assert/strict";
import { test } from "node:test";

import type { Field } from "../sync/contract.ts";
import { siteNamed, siteSayings, sitesFound, surveySites } from "./field_sites.ts";

const foot = { id: "af1", stream: "Alder Fork", name: "above the footbridge", label: "AF-1" };
const weir = { id: "af2", stream: "Alder Fork", name: "below the weir" };
const mill = { id: "tr1", stream: "Tánsy Run", name: "at the mill" };
const twin = { id: "tr2", stream: "Tánsy Run", name: "at the mill" };
const field: Field = {
  surveys: [
    { id: "s1", name: "Summer", sites: [foot, weir] },
    { id: "s2", name: "Low flow", sites: [weir, mill, twin] },
  ],
  visits: {},
};

test("a site of two surveys is offered once, with both", () => {
  assert.deepEqual(
    surveySites(field).map(({ site, surveys }) => [site.id, surveys]),
    [["af1", ["Summer"]], ["af2", ["Summer", "Low flow"]], ["tr1", ["Low flow"]], ["tr2", ["Low flow"]]],
  );
  assert.deepEqual(surveySites(null), []);
});

test("a site is found by words of its names and label, without accents and marks", () => {
  const found = (text: string) => sitesFound(surveySites(field), text).map(({ site }) => site.id);
  assert.deepEqual(found("alder weir"), ["af2"]);
  assert.deepEqual(found("TANSY"), ["tr1", "tr2"]);
  assert.deepEqual(found("af-1"), ["af1"]);
  assert.deepEqual(found(" "), ["af1", "af2", "tr1", "tr2"]);
  assert.deepEqual(found("heron"), []);
});

test("choosing a site says all that the survey calls it, and no more", () => {
  assert.deepEqual(siteSayings(foot), [
    { what: "site/id", value: "af1" },
    { what: "site/stream", value: "Alder Fork" },
    { what: "site/name", value: "above the footbridge" },
    { what: "site/label", value: "AF-1" },
  ]);
  assert.equal(siteSayings(weir).length, 3);
});

test("a gauging names a site by its id, else by names that fit one site alone", () => {
  const named = (id: string | undefined, stream?: string, site?: string) =>
    siteNamed(field, { id, stream, site })?.id;
  assert.equal(named("af2", "Alder Fork", "above the footbridge"), "af2");
  assert.equal(named(undefined, "alder  fork", "Above the footbridge"), "af1");
  assert.equal(named(undefined, "Tánsy Run", "at the mill"), undefined);
  assert.equal(named("gone", "Alder Fork", "above the footbridge"), undefined);
  assert.equal(named(undefined, "Alder Fork"), undefined);
});
