import assert from "node:assert/strict";
import { test } from "node:test";

import { hashOf, placeOf } from "./app_context.svelte.ts";

test("a place comes back from its address", () => {
  const place = { screen: "gauging", id: "a/b %", step: "read", part: "v1" } as const;
  assert.deepEqual(placeOf(hashOf(place)), place);
  const desk = { screen: "desk", path: ["sites", "AF 1/2"] } as const;
  assert.deepEqual(placeOf(hashOf(desk)), desk);
  assert.deepEqual(placeOf("#/desk/"), { screen: "desk", path: [] });
});

test("an address that is no address leads to what is not there, and breaks nothing", () => {
  assert.deepEqual(placeOf("#/gauging/%/read"), { screen: "gauging", id: "%", step: "read", part: "" });
  assert.deepEqual(placeOf("#/%E0%A4%A"), { screen: "list" });
  assert.deepEqual(placeOf("#/settings/%"), { screen: "settings" });
});

test("an address with a code for pairing leads to the settings, with the code", () => {
  assert.deepEqual(placeOf("#/pair/ABCD2345"), { screen: "settings", code: "ABCD2345" });
  assert.deepEqual(placeOf("#/pair"), { screen: "settings", code: "" });
  assert.equal(hashOf({ screen: "settings", code: "AB/1" }), "#/pair/AB%2F1");
  assert.equal(hashOf({ screen: "settings" }), "#/settings");
});

test("an address of practice leads to the same places", () => {
  assert.deepEqual(placeOf("#/practice"), { screen: "list" });
  assert.deepEqual(placeOf("#/practice/settings"), { screen: "settings" });
  assert.deepEqual(placeOf("#/practice/gauging/a/read"), { screen: "gauging", id: "a", step: "read", part: "" });
});
