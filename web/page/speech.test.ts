import assert from "node:assert/strict";
import { test } from "node:test";

import { aloud, canSpeak, readBack, spoken } from "./speech.ts";

test("figures are spelled as they are called", () => {
  const called: [string, string][] = [
    ["12.6", "twelve point six"],
    ["0.9", "point nine"],
    ["0.80", "point eight zero"],
    ["1.05", "one point zero five"],
    ["1.0", "one point zero"],
    ["-0.12", "minus point one two"],
    ["0", "zero"],
    ["0.00", "point zero zero"],
    ["13", "thirteen"],
    ["30", "thirty"],
    ["21.7", "twenty-one point seven"],
    ["100", "one hundred"],
    ["114.25", "one hundred fourteen point two five"],
    ["2030", "two thousand thirty"],
  ];
  for (const [figure, words] of called) assert.equal(spoken(figure), words);
});

test("what is no figure is left as it is", () => {
  for (const text of ["", "-", "1,5", "ten", "1.2.3"]) assert.equal(spoken(text), text);
});

test("a line to read back has the tape position in figures and the rest in words", () => {
  assert.equal(readBack("14.5", "0.8", "1.32"), "14.5, point eight, one point three two");
  assert.equal(readBack(null, "0.8"), "point eight");
});

test("a sentence is spoken with its figures in words and its words as they are", () => {
  assert.equal(aloud("Go to 12.6, rod at 0.9."), "Go to twelve point six, rod at point nine.");
});

test("where there is no voice nothing is spoken", () => {
  assert.equal(canSpeak(), false);
});
