import assert from "node:assert/strict";
import { test } from "node:test";

import { LETTERS, meaning } from "./keyboard.ts";

function press(key: string, held: { ctrlKey?: boolean } = {}) {
  return meaning({ key, ctrlKey: false, altKey: false, metaKey: false, ...held });
}

test("digits, point, comma, minus and backspace type", () => {
  assert.deepEqual(press("7"), { key: "7" });
  assert.deepEqual([press("."), press(",")], [{ key: "." }, { key: "." }]);
  assert.deepEqual([press("-"), press("Backspace")], [{ key: "-" }, { key: "back" }]);
});

test("every letter has one meaning, small or capital", () => {
  assert.equal(new Set(LETTERS.map(({ letter }) => letter)).size, LETTERS.length);
  for (const { letter, act } of LETTERS) {
    assert.deepEqual([press(letter), press(letter.toLowerCase())], [{ act }, { act }]);
  }
});

test("what the browser means for itself is left to it", () => {
  assert.equal(press("c", { ctrlKey: true }), null);
  for (const key of ["Tab", "F5", "ArrowDown", " ", "x"]) assert.equal(press(key), null);
});
