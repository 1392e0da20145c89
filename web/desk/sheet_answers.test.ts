import assert from "node:assert/strict";
import { test } from "node:test";

import { answerWords, merged, quantityOf, saidOf, withChoice, withColumn, withUnit } from "./sheet_answers.ts";

test("a further answer keeps those before it, column by column and unit by unit", () => {
  const answers = merged({ columns: { depth: ["C"] }, units: { depth: "ft" } }, { decimal: "comma", units: { tape: "m" } });
  assert.deepEqual(answers, { columns: { depth: ["C"] }, units: { depth: "ft", tape: "m" }, decimal: "comma" });
  assert.deepEqual(merged({}, { decimal: "point" }), { decimal: "point" });
});

test("a column holds one thing: said anew it is no longer what it was, and may be left to the reader", () => {
  const depth = withColumn({}, "C", "depth");
  assert.deepEqual(depth, { columns: { depth: ["C"] } });
  const tape = withColumn(depth, "C", "tape");
  assert.deepEqual(tape, { columns: { tape: ["C"] } });
  assert.deepEqual(withColumn(withColumn(tape, "D", "ignore"), "E", "ignore"), {
    columns: { tape: ["C"], ignore: ["D", "E"] },
  });
  assert.deepEqual(withColumn(tape, "C", ""), {});
  assert.deepEqual([saidOf(tape, "C"), saidOf(tape, "D")], ["tape", ""]);
});

test("units and choices can be said and taken back", () => {
  assert.deepEqual(withUnit(withUnit({}, "depth", "ft"), "depth", ""), {});
  assert.deepEqual(withChoice({ decimal: "comma" }, "decimal", ""), {});
  assert.deepEqual(withChoice({}, "date_order", "day-first"), { date_order: "day-first" });
});

test("answers are told in words", () => {
  const answers = { columns: { "velocity@0.2": ["D"] }, units: { depth: "ft" }, date_order: "day-first" };
  assert.deepEqual(answerWords(answers), ["velocity@0.2: column D", "depth in ft", "date order: day-first"]);
  assert.deepEqual([quantityOf("velocity@0.2"), quantityOf("tape"), quantityOf(null)], ["velocity", "tape", ""]);
});
