/** What is said is called by the same words on the page and in the records. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import type { Entry } from "../journal/entry.ts";
import { fold } from "../journal/fold.ts";
import { entriesOf } from "../testing/entries.ts";
import { saidOf, thingOf, THINGS, wordsOf } from "./said_words.ts";

const SCHEMA = new URL("../../docs/schema/journal-1.schema.json", import.meta.url);

interface Rule {
  readonly if: { readonly properties: { readonly what: { readonly pattern: string } } };
  readonly then: { readonly properties: { readonly value: { readonly description: string } } };
}

test("everything that the published schema knows is called as it calls it", () => {
  const { allOf } = JSON.parse(readFileSync(SCHEMA, "utf8")).$defs.Entry as { allOf: Rule[] };
  const published = allOf.map((rule) => [
    rule.if.properties.what.pattern,
    rule.then.properties.value.description,
  ]);
  const ours = Object.entries(THINGS).map(([pattern, words]) => [
    `^${pattern.replace(/<.>/g, "[A-Za-z0-9_-]{1,64}")}$`,
    words,
  ]);
  assert.deepEqual(new Map(ours as [string, string][]), new Map(published as [string, string][]));
});

test("a figure of a vertical is called by its tape position, be it taken out", () => {
  const place = "channels/1/verticals/v1";
  const entries = entriesOf({ [`${place}/tape`]: "14.5", [`${place}/depth`]: "1.05" });
  const out: Entry = { ...entries[0]!, id: "out", sequence: 9, value: null, replaces: ["a1"] };
  const folded = fold([...entries, out]);
  assert.equal(thingOf(folded, `${place}/depth`), "depth at tape 14.5");
  assert.equal(
    thingOf(folded, `${place}/readings/r1`, { value: "0.8", fraction: 0.6 }),
    "velocity at 0.6 of the depth at tape 14.5",
  );
  assert.equal(thingOf(folded, `${place}/tape`), "tape position");
});

test("where there are several channels, it is said in which", () => {
  const folded = fold(
    entriesOf({
      "channels/1/verticals/v1/tape": "2.0",
      "channels/b/verticals/v2/tape": "9.0",
      "channels/b/name": "side arm",
    }),
  );
  assert.equal(thingOf(folded, "channels/b/verticals/v2/depth"), "depth at tape 9.0, channel side arm");
  assert.equal(thingOf(folded, "channels/1/name"), "name of the channel, channel 1");
});

test("values are read out with their figure first and nothing lost", () => {
  assert.equal(wordsOf("1.0"), "1.0");
  assert.equal(wordsOf(null), "taken out");
  assert.equal(wordsOf(false), "no");
  assert.equal(wordsOf({ fraction: 0.6, value: "0.80" }), "0.80, fraction 0.6");
  assert.equal(wordsOf([{ slope: "1.1", intercept: "0" }]), "slope 1.1, intercept 0");
  assert.equal(wordsOf("  "), "blank");
});

test("people are told of values in words, without checksums and keys of devices", () => {
  const review = { verdict: "approved", by: "R. Voss", discharge_m3s: "0.35", method_version: "1", state: "9f8e" };
  assert.equal(saidOf("review", review), "approved, by R. Voss, discharge in m³/s 0.35, version of the method 1");
  assert.equal(saidOf("crew/c1", { role: "recorder", name: "T. Quayle" }), "T. Quayle, role recorder");
  const photo = { purpose: "upstream", sha256: "377c", type: "image/jpeg", bytes: 14268 };
  assert.equal(saidOf("photos/p1", photo), "upstream, bytes 14268");
  assert.equal(saidOf("channels/1/order", ["v1", "v2"]), "2 verticals");
  assert.equal(saidOf("started", "2026-07-22T10:05:31.250+01:00"), "2026-07-22 10:05 (+01:00)");
  assert.equal(saidOf("stage/s1", { value: "0.99", at: "2026-07-22T09:05:00Z" }), "0.99, at 2026-07-22 09:05 (UTC)");
  assert.equal(saidOf("depth", "1.0"), "1.0");
  // Where two devices differ nothing may be left out, or both would look alike.
  assert.equal(wordsOf(photo), "upstream, checksum 377c, type image/jpeg, bytes 14268");
});

test("a panel of the sheet is called by its tape position", () => {
  const folded = fold(entriesOf({ "channels/1/verticals/v2/tape": "4.5" }));
  const panel = { channel: "1", vertical: "v2", width: "1.15" };
  assert.equal(thingOf(folded, "filed/panels/p2", panel), "panel as filed at tape 4.5");
  assert.equal(saidOf("filed/panels/p2", panel), "width 1.15");
});

test("what is not known is called by its path", () => {
  assert.equal(thingOf(fold([]), "future/thing"), "future/thing");
});
