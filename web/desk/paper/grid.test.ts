import assert from "node:assert/strict";
import { test } from "node:test";

import type { Entry, Value } from "../../journal/entry.ts";
import { fold, type Folded } from "../../journal/fold.ts";
import type { Saying } from "../../page/gauging.svelte.ts";
import { columnsOf, rulingFrom, USUAL_RULING } from "./columns.ts";
import { cellSayings, depthWordSayings, ditto, edgeSayings, led, rowOut, rowsOf } from "./grid.ts";

/** A sheet being typed: what was said so far, one entry after another. */
class Typed {
  #entries: Entry[] = [];

  get folded(): Folded {
    return fold(this.#entries);
  }

  say(sayings: readonly Saying[]): this {
    for (const { what, value } of sayings) {
      const heads = this.folded.get(what)?.heads ?? [];
      const sequence = this.#entries.length + 1;
      this.#entries.push({
        id: `e${sequence}`,
        gauging: "g",
        device: "desk",
        sequence,
        at: "2026-07-14T10:00:00Z",
        what,
        value,
        ...(heads.length === 0 ? {} : { replaces: heads.map(({ id }) => id) }),
      });
    }
    return this;
  }

  value(what: string): Value | undefined {
    return this.folded.get(what)?.value;
  }
}

const COLUMNS = columnsOf({ ...USUAL_RULING, points: [0.2, 0.8], seconds: true });
const column = (id: string) => COLUMNS.find((one) => one.id === id)!;
const AT = "channels/1/verticals/v1";

test("a sheet has the columns it was ruled for, from the surface down", () => {
  assert.deepEqual(COLUMNS.map(({ id }) => id), ["tape", "depth", "v0.2", "s0.2", "v0.8", "s0.8"]);
  const counted = columnsOf({ points: [null], counts: true, seconds: false, angle: "cosine", remarks: true });
  assert.deepEqual(counted.map(({ id }) => id), ["tape", "depth", "cnull", "snull", "angle", "remark"]);
});

test("a kept ruling comes back, and anything else gives the usual one", () => {
  const ruling = { points: [0.2, 0.8], counts: false, seconds: true, angle: "degrees", remarks: true } as const;
  assert.deepEqual(rulingFrom(JSON.parse(JSON.stringify(ruling))), ruling);
  assert.deepEqual(rulingFrom("x"), USUAL_RULING);
});

test("figures stand as typed, and two points of one vertical keep apart", () => {
  const typed = new Typed();
  for (const [id, text] of [["tape", "4.50"], ["depth", "1.0"], ["v0.2", "0.830"], ["s0.2", "40"], ["v0.8", "-0.1"]]) {
    typed.say(cellSayings(typed.folded, "1", "v1", column(id!), text!));
  }
  const [row] = rowsOf(typed.folded, "1", COLUMNS);
  assert.deepEqual(row!.cells, ["4.50", "1.0", "0.830", "40", "-0.1", ""]);
  assert.deepEqual(typed.value(`${AT}/readings/p20`), { fraction: 0.2, value: "0.830", seconds: "40" });
});

test("an emptied cell takes its figure out, and a reading with nothing left goes", () => {
  const typed = new Typed();
  typed.say(cellSayings(typed.folded, "1", "v1", column("v0.2"), "0.83"));
  typed.say(cellSayings(typed.folded, "1", "v1", column("s0.2"), "40"));
  typed.say(cellSayings(typed.folded, "1", "v1", column("v0.2"), ""));
  assert.deepEqual(typed.value(`${AT}/readings/p20`), { fraction: 0.2, seconds: "40" });
  typed.say(cellSayings(typed.folded, "1", "v1", column("s0.2"), ""));
  assert.equal(typed.value(`${AT}/readings/p20`), null);
  assert.deepEqual(cellSayings(typed.folded, "1", "v2", column("depth"), ""), []);
});

test("a letter in the place of the depth says an edge or a dry place", () => {
  const typed = new Typed();
  typed.say(depthWordSayings(typed.folded, "1", "v1", "L")!);
  assert.deepEqual([typed.value(`${AT}/edge`), typed.value(`${AT}/bank`), typed.value(`${AT}/depth`)], ["left", "sloping", "0"]);
  typed.say(depthWordSayings(typed.folded, "1", "v1", "d")!);
  assert.deepEqual([typed.value(`${AT}/dry`), typed.value(`${AT}/depth`)], [true, null]);
  assert.equal(depthWordSayings(typed.folded, "1", "v1", "1.2"), null);
});

test("a steep edge keeps its depth, and what is no edge any more keeps its figures", () => {
  const typed = new Typed();
  typed.say(cellSayings(typed.folded, "1", "v1", column("depth"), "0.4"));
  typed.say(edgeSayings(typed.folded, "1", "v1", "right", "steep"));
  assert.deepEqual([typed.value(`${AT}/depth`), typed.value(`${AT}/bank`)], ["0.4", "steep"]);
  typed.say(edgeSayings(typed.folded, "1", "v1", null, null));
  assert.deepEqual([typed.value(`${AT}/depth`), typed.value(`${AT}/edge`)], ["0.4", null]);
});

test("a row that was taken out is gone from the sheet", () => {
  const typed = new Typed();
  typed.say(cellSayings(typed.folded, "1", "v1", column("tape"), "4.5"));
  typed.say(cellSayings(typed.folded, "1", "v1", column("v0.2"), "1"));
  typed.say(rowOut(typed.folded, "1", "v1", "typed twice"));
  assert.deepEqual(rowsOf(typed.folded, "1", COLUMNS), []);
});

test("a ditto mark repeats what stands above, and along the tape goes on by the same distance", () => {
  const typed = new Typed();
  for (const [key, tape, depth] of [["v1", "4.50", "1.0"], ["v2", "5.75", "1.10"]]) {
    typed.say(cellSayings(typed.folded, "1", key!, column("tape"), tape!));
    typed.say(cellSayings(typed.folded, "1", key!, column("depth"), depth!));
  }
  const rows = rowsOf(typed.folded, "1", COLUMNS);
  assert.equal(ditto(rows, 2, 0, COLUMNS), "7.00");
  assert.equal(ditto(rows, 2, 1, COLUMNS), "1.10");
  assert.equal(ditto(rows, 1, 0, COLUMNS), null);
  assert.equal(ditto(rows, 0, 1, COLUMNS), null);
});

test("Enter goes on cell by cell and row by row, arrows move beside, and a caret inside a figure stays", () => {
  const size = { rows: 3, columns: 4 };
  const plain = { shift: false };
  assert.deepEqual(led({ row: 0, column: 1 }, { key: "Enter", ...plain }, size, "end"), { row: 0, column: 2 });
  assert.deepEqual(led({ row: 0, column: 3 }, { key: "Enter", ...plain }, size, "end"), { row: 1, column: 0 });
  assert.deepEqual(led({ row: 1, column: 0 }, { key: "Enter", shift: true }, size, "end"), { row: 0, column: 3 });
  assert.equal(led({ row: 2, column: 3 }, { key: "Enter", ...plain }, size, "end"), null);
  assert.deepEqual(led({ row: 1, column: 2 }, { key: "ArrowDown", ...plain }, size, "inside"), { row: 2, column: 2 });
  assert.equal(led({ row: 1, column: 2 }, { key: "ArrowRight", ...plain }, size, "inside"), null);
  assert.deepEqual(led({ row: 1, column: 2 }, { key: "ArrowLeft", ...plain }, size, "start"), { row: 1, column: 1 });
});
