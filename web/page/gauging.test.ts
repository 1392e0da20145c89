import assert from "node:assert/strict";
import { test } from "node:test";

import type { Entry, Value } from "../journal/entry.ts";
import { fold } from "../journal/fold.ts";
import { StoreTrouble, type Store } from "../journal/store_contract.ts";
import type { Engine } from "./engine_contract.ts";
import { OpenGauging } from "./gauging.svelte.ts";

/** A store whose appends end when and as the test says. */
class HeldStore {
  readonly device = "phone";
  readonly kept = new Map<string, Entry>();
  readonly appends: { entries: readonly Entry[]; end: (trouble?: StoreTrouble) => void }[] = [];

  append(entries: readonly Entry[]): Promise<number> {
    return new Promise((resolve, reject) => {
      const end = (trouble?: StoreTrouble) => {
        if (trouble) return reject(trouble);
        for (const entry of entries) this.kept.set(entry.id, entry);
        resolve(entries.length);
      };
      this.appends.push({ entries, end });
    });
  }
}

const engine: Engine = {
  state: "off",
  step: "",
  trouble: null,
  about: null,
  tryAgain: () => undefined,
  ask: () => Promise.reject(new Error("off")),
};

function opened(
  store: HeldStore,
  entries: readonly Entry[] = [],
  asked: Engine = engine,
): OpenGauging {
  const around = {
    store: store as unknown as Store,
    engine: asked,
    now: () => new Date("2026-07-14T17:12:03.250Z"),
    elsewhere: false,
  };
  return new OpenGauging("alder-fork-1", around, entries);
}

const turn = () => new Promise((resolve) => setImmediate(resolve));

test("saved is shown only while every entry is on the device", async () => {
  const store = new HeldStore();
  const gauging = opened(store);
  const first = gauging.say("remarks", "a");
  await turn();
  const second = gauging.say("remarks", "b");
  assert.equal(gauging.saving, "saving");
  store.appends[0]!.end();
  await first;
  assert.deepEqual([gauging.saving, store.kept.size], ["saving", 1]);
  await turn();
  store.appends[1]!.end();
  await second;
  assert.deepEqual([gauging.saving, store.kept.size], ["saved", 2]);
});

test("entries that were not saved are tried again with the next, and trouble ends with them", async () => {
  const store = new HeldStore();
  const gauging = opened(store);
  const first = gauging.say("remarks", "a");
  await turn();
  store.appends[0]!.end(new StoreTrouble("full", "There is no room."));
  await first;
  assert.deepEqual([gauging.saving, gauging.trouble], ["not saved", "There is no room."]);
  assert.equal(gauging.text("remarks"), "a");
  const second = gauging.say("quality", "good");
  await turn();
  assert.equal(gauging.saving, "saving");
  assert.deepEqual(
    store.appends[1]!.entries.map(({ what }) => what),
    ["remarks", "quality"],
  );
  store.appends[1]!.end();
  await second;
  assert.deepEqual([gauging.saving, gauging.trouble], ["saved", null]);
});

test("one attempt to save follows the other, so that an older failure hides no newer success", async () => {
  const store = new HeldStore();
  const gauging = opened(store);
  const first = gauging.say("remarks", "a");
  await turn();
  const second = gauging.say("quality", "good");
  await turn();
  assert.equal(store.appends.length, 1);
  store.appends[0]!.end(new StoreTrouble("lost", "It is gone."));
  await first;
  await turn();
  store.appends[1]!.end();
  await second;
  assert.deepEqual([gauging.saving, gauging.trouble, store.kept.size], ["saved", null, 2]);
});

test("after the storage was taken away every entry is saved again, those under way too", async () => {
  const store = new HeldStore();
  const gauging = opened(store);
  const first = gauging.say("remarks", "a");
  await turn();
  const again = gauging.saveAgain();
  store.appends[0]!.end();
  await first;
  store.kept.clear();
  await turn();
  assert.equal(gauging.saving, "saving");
  store.appends[1]!.end();
  await again;
  assert.deepEqual([gauging.saving, store.kept.size], ["saved", 1]);
});

test("things said of one place in one breath follow each other and are no conflict", async () => {
  const gauging = opened(new HeldStore());
  void gauging.sayAll([
    { what: "remarks", value: "a" },
    { what: "remarks", value: "b" },
    { what: "remarks", value: "b" },
  ]);
  const said = fold(gauging.entries).get("remarks")!;
  assert.deepEqual([said.value, said.conflict, said.history.length], ["b", false, 2]);
});

test("what stands is not said again, whatever the order of its members", () => {
  const gauging = opened(new HeldStore());
  void gauging.say("crew/a", { name: "I. Marrow", role: "reader" });
  void gauging.say("crew/a", { role: "reader", name: "I. Marrow" });
  void gauging.say("remarks", null);
  assert.equal(gauging.entries.length, 1);
});

test("a conflict is settled by saying what stands last", () => {
  const entry = { gauging: "alder-fork-1", at: "2026-07-14T10:12:03.250-07:00", what: "remarks" };
  const gauging = opened(new HeldStore(), [
    { ...entry, id: "a", device: "phone", sequence: 1, value: "clear" },
    { ...entry, id: "b", device: "tablet", sequence: 1, value: "silty" },
  ]);
  assert.equal(gauging.folded.get("remarks")!.conflict, true);
  void gauging.say("remarks", "silty");
  assert.equal(gauging.folded.get("remarks")!.conflict, false);
  assert.deepEqual(gauging.entries.at(-1)!.replaces, ["a", "b"]);
});

test("entries are numbered past those of other devices, and carry who records", () => {
  const gauging = opened(new HeldStore());
  void gauging.say("crew/a", { name: "J. Ostrander", role: "recorder" });
  const other = { ...gauging.entries[0]!, id: "z", device: "tablet", sequence: 7, what: "quality" };
  gauging.receive([other]);
  void gauging.say("remarks", "clear", "  ");
  const { sequence, by, reason } = gauging.entries.at(-1)!;
  assert.deepEqual([sequence, by, reason], [8, "J. Ostrander", undefined]);
});

test("what is no JSON value never becomes an entry", async () => {
  const gauging = opened(new HeldStore());
  const said: [what: string, value: unknown][] = [
    ["remarks", NaN],
    ["site/position", { lon: Infinity, lat: 1 }],
    ["remarks", undefined],
    ["no such/what", "a"],
  ];
  for (const [what, value] of said) {
    await gauging.say(what, value as Value);
    // Nothing that was shown as said may look saved.
    assert.deepEqual([gauging.entries.length, gauging.saving], [0, "not saved"]);
    assert.match(gauging.trouble!, /could not be taken in: .+ Say it again/);
  }
  const store = new HeldStore();
  const other = opened(store);
  await other.say("remarks", NaN);
  const again = other.say("remarks", "clear");
  await turn();
  store.appends[0]!.end();
  await again;
  assert.deepEqual([other.saving, other.trouble], ["saved", null]);
});

test("a crew that a file wrote otherwise names no recorder, and readings go on", async () => {
  const store = new HeldStore();
  const odd = [{ role: 5 }, { name: 5, role: "recorder" }, { name: {}, role: "recorder" }, "J."];
  const gauging = opened(store);
  odd.forEach((value, i) => void gauging.say(`crew/c${i}`, value as Value));
  assert.equal(gauging.recorder, undefined);
  void gauging.say("remarks", "clear");
  assert.equal(gauging.entries.length, odd.length + 1);
});

test("an entry among a thousand is taken up within a tenth of a second", async () => {
  const store = new HeldStore();
  const gauging = opened(store);
  const began = performance.now();
  for (let i = 0; i < 1000; i++) void gauging.say(`channels/1/verticals/v${i % 40}/depth`, `${i}`);
  const each = (performance.now() - began) / 1000;
  assert.ok(each < 100, `${each} ms each`);
});

test("a look that is refused is told in its words, until one is not", async () => {
  const replies = [{ ok: false, faults: [{ message: "This could not be worked out." }] }, { ok: true }];
  const ask = () => Promise.resolve(replies.shift()) as ReturnType<Engine["ask"]>;
  const gauging = opened(new HeldStore(), [], { ...engine, ask } as Engine);
  await turn();
  assert.deepEqual([gauging.viewTrouble, gauging.view], ["This could not be worked out.", null]);
  await gauging.look();
  assert.equal(gauging.viewTrouble, null);
});
