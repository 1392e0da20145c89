import assert from "node:assert/strict";
import { test } from "node:test";

import type { Entry, Value } from "../../journal/entry.ts";
import { fold, valueAt } from "../../journal/fold.ts";
import type { Saying } from "../gauging.svelte.ts";
import { bringBack, takeBack } from "./undo.ts";

/** A journal to which presses are added as the page does: one instant a press. */
class Journal {
  entries: Entry[] = [];
  #presses = 0;

  press(sayings: readonly Saying[], device = "here"): this {
    this.#presses += 1;
    for (const saying of sayings) {
      const sequence = this.entries.length + 1;
      const heads = fold(this.entries).get(saying.what)?.heads.map(({ id }) => id) ?? [];
      this.entries.push({
        id: `e${sequence}`,
        gauging: "g",
        device,
        sequence,
        at: `2026-07-14T10:00:0${this.#presses}-07:00`,
        ...saying,
        ...(heads.length > 0 ? { replaces: heads } : {}),
      });
    }
    return this;
  }

  say(what: string, value: Value): this {
    return this.press([{ what, value }]);
  }

  undo(how: typeof takeBack): string | null {
    const undo = how(this.entries, "here");
    if (typeof undo === "string") return undo;
    if (undo) this.press(undo.sayings);
    return undo?.words ?? null;
  }

  at(what: string): Value | undefined {
    return valueAt(fold(this.entries), `channels/1/verticals/v1/${what}`);
  }
}

const V1 = "channels/1/verticals/v1";

function begun(): Journal {
  return new Journal()
    .press([
      { what: `${V1}/tape`, value: "14.5" },
      { what: `${V1}/depth`, value: "1.05" },
    ])
    .say(`${V1}/readings/r1`, { value: "0.83", fraction: 0.6 });
}

test("one press is taken back as a whole, the last one first", () => {
  const journal = begun();
  assert.equal(journal.undo(takeBack), "velocity 0.83 at 14.5");
  assert.deepEqual([journal.at("readings/r1"), journal.at("depth")], [null, "1.05"]);
  assert.equal(journal.undo(takeBack), "depth 1.05 at 14.5");
  assert.deepEqual([journal.at("tape"), journal.at("depth")], [null, null]);
  assert.equal(journal.undo(takeBack), null);
});

test("a correction taken back puts the earlier figure back", () => {
  const journal = begun().say(`${V1}/depth`, "1.50");
  assert.equal(journal.undo(takeBack), "depth 1.50 at 14.5");
  assert.equal(journal.at("depth"), "1.05");
});

test("what was taken back is brought back, and can be taken back again", () => {
  const journal = begun();
  journal.undo(takeBack);
  assert.equal(journal.undo(bringBack), "velocity 0.83 at 14.5");
  assert.deepEqual(journal.at("readings/r1"), { value: "0.83", fraction: 0.6 });
  assert.equal(journal.undo(bringBack), null);
  assert.equal(journal.undo(takeBack), "velocity 0.83 at 14.5");
  assert.equal(journal.undo(takeBack), "depth 1.05 at 14.5");
});

test("only the readings of this device are taken back", () => {
  const journal = begun()
    .press([{ what: "channels/1/verticals/v2/tape", value: "15.0" }], "there")
    .say("quality", "good");
  assert.equal(journal.undo(takeBack), "velocity 0.83 at 14.5");
});

test("an edge is told as an edge", () => {
  const journal = new Journal().press([
    { what: `${V1}/tape`, value: "3.2" },
    { what: `${V1}/edge`, value: "left" },
    { what: `${V1}/bank`, value: "sloping" },
    { what: `${V1}/depth`, value: "0" },
  ]);
  assert.equal(journal.undo(takeBack), "left edge at 3.2");
  assert.equal(journal.undo(bringBack), "left edge at 3.2");
});

test("nothing leaves the journal when something is taken back", () => {
  const journal = begun();
  const before = [...journal.entries];
  journal.undo(takeBack);
  assert.deepEqual(journal.entries.slice(0, before.length), before);
  assert.equal(journal.entries.at(-1)!.reason, "taken back");
});

test("what another device said in its place since is not taken back", () => {
  const journal = begun().say(`${V1}/depth`, "1.06");
  journal.press([{ what: `${V1}/depth`, value: "1.60" }], "there");
  assert.equal(journal.undo(takeBack), "Not taken back: depth 1.06 at 14.5 was changed by another device since.");
  assert.equal(journal.at("depth"), "1.60");
});
