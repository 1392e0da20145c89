import assert from "node:assert/strict";
import { test } from "node:test";

import type { Looked, Taken } from "./asking/answers.ts";
import { sumOf, TakingIn } from "./taking_in.svelte.ts";

const COUNTS = { used: 0, remark: 0, refused: 0 };
const LOOKED: Looked = {
  file: "a.csv",
  kind: "sheet",
  known: { columns: [], units: {}, choices: {} },
  columns: [],
  gaugings: [
    {
      label: "a",
      stream: "Alder Fork",
      place: null,
      day: null,
      verticals: 20,
      discharge_m3s: 1,
      reason: null,
      faults: [],
      notes: [],
      rows: COUNTS,
      filed: null,
    },
  ],
  rows: COUNTS,
  fates: [],
  questions: [],
  notes: [],
};
const TAKEN: Taken = {
  file: "a.csv",
  kind: "sheet",
  seconds: 0.5,
  gaugings: ["g1", "g2"],
  added: ["g1"],
  entries: 40,
  photos: 0,
  survey: null,
  rows: { used: 20, remark: 2, refused: 1 },
  filed: [
    { gauging: "g1", label: "a", discharge_m3s: 1, filed_m3s: 1, rule: "mid-section", difference_percent: 0, words: [] },
    { gauging: "g2", label: "b", discharge_m3s: 1, filed_m3s: 2, rule: null, difference_percent: -50, words: [] },
  ],
  faults: [],
  notes: [],
};

const named = (name: string) => new File(["x"], name);

test("files are looked at one after another, and one that fails holds up no other", async () => {
  const asked: string[] = [];
  let under = 0;
  const taking = new TakingIn({
    look: async (file) => {
      assert.equal(++under, 1);
      asked.push(file.name);
      await new Promise((done) => setTimeout(done, 1));
      under -= 1;
      if (file.name === "b.csv") throw new Error("It is no sheet.");
      return LOOKED;
    },
    take: async () => TAKEN,
  });
  await taking.add(["a.csv", "b.csv", "c.csv"].map(named));
  assert.deepEqual(asked, ["a.csv", "b.csv", "c.csv"]);
  assert.deepEqual(taking.files.map(({ step }) => step), ["looked", "failed", "looked"]);
  assert.equal(taking.files[1]!.trouble, "It is no sheet.");
});

test("what is asked about is not ready until an answer settles it", async () => {
  const question = { said: "Which?", sheet: null, row: null, column: null, options: [] };
  const taking = new TakingIn({
    look: async (_, answers) => ({ ...LOOKED, questions: "decimal" in answers ? [] : [question] }),
    take: async () => TAKEN,
  });
  await taking.add([named("a.csv")]);
  const [file] = taking.files;
  assert.equal(file!.ready, false);
  await taking.answer(file!, { decimal: "comma" });
  assert.equal(file!.ready, true);
});

test("what was taken in is not taken again, and what was left aside not at all", async () => {
  const took: string[] = [];
  const taking = new TakingIn({
    look: async () => LOOKED,
    take: async (file) => {
      took.push(file.name);
      return TAKEN;
    },
  });
  await taking.add([named("a.csv"), named("b.csv")]);
  const [a, b] = taking.files;
  taking.remove(b!);
  await taking.take([a!, a!, b!]);
  assert.deepEqual(took, ["a.csv"]);
});

test("a sum counts gaugings, rows by their fate, and how many totals are explained", () => {
  assert.deepEqual(sumOf([TAKEN, TAKEN]), {
    files: 2,
    seconds: 1,
    gaugings: 4,
    added: 2,
    entries: 80,
    rows: { used: 40, remark: 4, refused: 2 },
    filed: 4,
    explained: 2,
    faults: 0,
  });
});
