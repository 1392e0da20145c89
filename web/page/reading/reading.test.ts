/** The reading as a whole: which presses of the keypad say what in the journal. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { Bank, edge, turn } from "../../testing/bank.ts";
import { whatOf } from "../section.ts";
import { changeBank, dryHere, meetEdge, newChannel, readAgain, redoLast, soundingOnly, takeOut, undoLast } from "./acts.ts";
import type { Reading } from "./reading.svelte.ts";

test("a planned vertical takes seven presses with fixed decimals, and no figure loses a digit", async () => {
  const bank = new Bank([{ what: "decimals", value: { tape: 1, depth: 1, velocity: 2 } }], { fixedDecimals: true });
  await bank.keys("10⏎080⏎");
  assert.deepEqual(bank.said(3), [
    ["tape", "4.0"],
    ["depth", "1.0"],
    ["readings", { value: "0.80", fraction: 0.6 }],
  ]);
  assert.equal(bank.asked, "depth, 5.0");
});

test("both points of a deep vertical are asked in turn, with the rod for each", async () => {
  const bank = new Bank();
  await bank.keys("2.80⏎");
  assert.deepEqual([bank.asked, bank.reading.calling.figure], ["velocity at 0.2, 4.0", "5.60"]);
  await bank.keys(".9⏎");
  assert.deepEqual([bank.asked, bank.reading.calling.figure], ["velocity at 0.8, 4.0", "1.40"]);
  await bank.keys(".7⏎");
  assert.equal(bank.asked, "depth, 5.0");
});

test("without an engine the entry goes on, and what is typed keeps its point when it comes up", async () => {
  const bank = new Bank();
  bank.engineUp = false;
  await bank.keys("2.80⏎.9");
  bank.engineUp = true;
  await bank.keys("1⏎");
  assert.deepEqual(bank.said(1), [["readings", { value: "0.91", fraction: 0.6 }]]);
  assert.equal(bank.asked, "depth, 5.0");
});

test("saved is announced only once the device keeps it", async () => {
  const bank = new Bank();
  await turn();
  bank.keeps = false;
  await bank.keys("1.05⏎");
  assert.equal(bank.gauging.saving, "saving");
  assert.doesNotMatch(bank.reading.announced, /saved on this device/);
});

test("what was typed and where the crew was sent outlive a reload", async () => {
  const bank = new Bank();
  await bank.reload();
  bank.reading.choose({ go: "tape", tape: "4.5", inserted: true });
  await bank.keys("1.0");
  await bank.reload();
  assert.deepEqual([bank.asked, bank.reading.shown], ["depth, 4.5", "1.0"]);
  await bank.keys("⏎");
  assert.deepEqual(bank.said(3), [
    ["tape", "4.5"],
    ["inserted", true],
    ["depth", "1.0"],
  ]);
});

test("a velocity that was lost before it was saved is asked again", async () => {
  const bank = new Bank();
  await bank.keys("1.05⏎");
  bank.keeps = false;
  await bank.keys(".83⏎");
  assert.equal(bank.asked, "depth, 5.0");
  await bank.reload();
  assert.deepEqual([bank.asked, bank.reading.shown], ["velocity at 0.6, 4.0", ""]);
});

test("digits that were said before the device could forget them are not typed again", async () => {
  const bank = new Bank();
  await bank.reload();
  await bank.keys("1.05");
  const typed = new Map(bank.drafts);
  await bank.keys("⏎");
  for (const [gauging, draft] of typed) bank.drafts.set(gauging, draft);
  await bank.reload();
  assert.deepEqual([bank.asked, bank.reading.shown], ["velocity at 0.6, 4.0", ""]);
});

test("a vertical under way is found again after a reload", async () => {
  const bank = new Bank();
  await bank.reload();
  await bank.keys("2.80⏎.9⏎");
  await bank.reload();
  assert.equal(bank.asked, "velocity at 0.8, 4.0");
});

test("what is taken back is asked again, and what is brought back is not", async () => {
  const bank = new Bank();
  await bank.keys("1.05⏎.83⏎");
  undoLast(bank.reading);
  assert.deepEqual([bank.asked, bank.reading.told], ["velocity at 0.6, 4.0", "Taken back: velocity 0.83 at 4.0"]);
  redoLast(bank.reading);
  assert.equal(bank.asked, "depth, 5.0");
  undoLast(bank.reading);
  undoLast(bank.reading);
  assert.equal(bank.asked, "depth, 4.0");
});

test("a depth without velocity, and a dry place, lead on to the next", async () => {
  const bank = new Bank();
  await bank.keys("1.05⏎");
  soundingOnly(bank.reading);
  assert.equal(bank.asked, "depth, 5.0");
  await bank.keys("1.1");
  soundingOnly(bank.reading);
  assert.equal(bank.asked, "depth, 6.0");
  dryHere(bank.reading);
  assert.deepEqual(bank.said(2), [
    ["tape", "6.0"],
    ["dry", true],
  ]);
  assert.equal(bank.asked, "tape");
});

test("a place found dry after its depth was called loses that depth by an entry", async () => {
  const bank = new Bank();
  await bank.keys("1.05⏎");
  dryHere(bank.reading);
  assert.deepEqual(bank.said(2), [
    ["depth", null],
    ["dry", true],
  ]);
});

test("a point is read again beside its first reading", async () => {
  const bank = new Bank();
  await bank.keys("1.05⏎.83⏎");
  readAgain(bank.reading);
  await bank.keys(".85⏎");
  const [vertical] = bank.reading.channel.verticals.filter((one) => one.edge === null);
  assert.deepEqual(vertical!.readings.map(({ value, fraction }) => [value, fraction]), [["0.83", 0.6], ["0.85", 0.6]]);
  assert.equal(bank.asked, "depth, 5.0");
});

test("a corrected velocity keeps its point and seconds, and says why", async () => {
  const what = whatOf("1", "v9", "readings/r1");
  const bank = new Bank([
    { what: whatOf("1", "v9", "tape"), value: "4.0" },
    { what: whatOf("1", "v9", "depth"), value: "1.05" },
    { what, value: { value: "8.3", fraction: 0.6, seconds: "40" } },
  ]);
  bank.reading.enterFigure({ what, label: "Velocity at 4.0", quantity: "velocity", was: "8.3", member: "value" });
  bank.reading.reason = "misheard";
  await bank.keys(".83⏎");
  const last = bank.gauging.entries.at(-1)!;
  assert.deepEqual([last.value, last.reason], [{ value: "0.83", fraction: 0.6, seconds: "40" }, "misheard"]);
  assert.equal(bank.asked, "depth, 5.0");
});

test("a bank that turns out steep changes the edge that stands, and asks its depth", async () => {
  const bank = new Bank(edge("vz", "9.0", "right"));
  meetEdge(bank.reading, "steep");
  await bank.keys("8.8⏎");
  assert.equal(bank.asked, "depth, 8.8");
  await bank.keys(".6⏎");
  const right = bank.reading.channel.verticals.filter(({ edge: side }) => side === "right");
  assert.deepEqual(right.map(({ key, tape, bank: form, depth }) => [key, tape, form, depth]), [["vz", "8.8", "steep", "0.6"]]);
  changeBank(bank.reading, right[0]!, "sloping");
  assert.deepEqual(bank.said(2), [
    ["bank", "sloping"],
    ["depth", "0"],
  ]);
});

test("a tape position that stands there already is opened and makes no second vertical", async () => {
  const bank = new Bank();
  await bank.keys("1.05⏎.83⏎");
  const before = bank.gauging.entries.length;
  bank.reading.choose({ go: "type", inserted: true });
  await bank.keys("4⏎");
  assert.equal(bank.gauging.entries.length, before);
  assert.equal(bank.reading.panel?.open, "vertical");
});

test("a second channel has its own edges and no plan", async () => {
  const bank = new Bank();
  newChannel(bank.reading, "left channel");
  assert.equal(bank.reading.keyWords, "Type the tape at the left edge");
  await bank.keys("30⏎31⏎.5⏎.3⏎");
  assert.equal(bank.asked, "tape");
  assert.deepEqual(bank.reading.channel.verticals.map(({ tape, edge: side }) => [tape, side]), [["30", "left"], ["31", null]]);
});

test("a meter that is rated is called by its counts and their seconds", async () => {
  const bank = new Bank([{ what: "meter/rating", value: [{ slope: "2.2", intercept: "0.02" }] }]);
  await bank.keys("1.05⏎15⏎");
  assert.equal(bank.reading.keyWords, "Type the seconds of 15 counts");
  await bank.keys("<<7⏎42⏎");
  assert.deepEqual(bank.said(1), [["readings", { counts: "17", fraction: 0.6, seconds: "42" }]]);
});

test("a vertical taken out is due again", async () => {
  const bank = new Bank();
  await bank.keys("1.05⏎.83⏎");
  takeOut(bank.reading, bank.reading.touched!, "read at the wrong mark");
  assert.deepEqual([bank.said(1), bank.gauging.entries.at(-1)!.reason], [[["tape", null]], "read at the wrong mark"]);
  assert.equal(bank.asked, "depth, 4.0");
});

test("a figure that has lost its point says nothing, and why", async () => {
  const bank = new Bank();
  const before = bank.gauging.entries.length;
  await bank.keys("08⏎");
  assert.equal(bank.gauging.entries.length, before);
  assert.match(bank.reading.told, /^08 is no figure/);
  await bank.keys("<<⏎");
  assert.equal(bank.reading.told, "Type the depth");
});

test("a depth takes no minus, a velocity does", async () => {
  const bank = new Bank();
  await bank.keys("-1.05⏎-.12⏎");
  assert.deepEqual(bank.said(2), [
    ["depth", "1.05"],
    ["readings", { value: "-0.12", fraction: 0.6 }],
  ]);
});

test("nothing is said while another tab writes", async () => {
  const bank = new Bank();
  const before = bank.gauging.entries.length;
  bank.elsewhere = true;
  await bank.keys("1.05⏎");
  assert.equal(bank.gauging.entries.length, before);
});

test("once all is read the big key leads on", async () => {
  const bank = new Bank(edge("vz", "9.0", "right"));
  await bank.keys("1⏎.8⏎1⏎.8⏎1⏎.8⏎");
  assert.equal(bank.reading.keyWords, "Go to Check");
  await bank.keys("⏎");
  assert.equal(bank.finished, 1);
});

test("the first figure of a gauging says when it was begun, once", async () => {
  const bank = new Bank([{ what: "started", value: null }]);
  await bank.keys("1.05⏎.83⏎");
  const starts = bank.gauging.entries.filter(({ what, value }) => what === "started" && value !== null);
  assert.equal(starts.length, 2);
  assert.equal(typeof bank.gauging.text("started"), "string");
});

/** Let so many seconds of a count-down pass. */
function pass(bank: Bank, seconds: number): void {
  const { countdown } = bank.reading;
  countdown.run = { ...countdown.run!, started: countdown.run!.started - 1000 * seconds };
}

test("seconds counted at one vertical are not kept with the velocity of another", async () => {
  const bank = new Bank([], { sound: false, vibration: false });
  await bank.keys("1.05⏎");
  bank.reading.count();
  pass(bank, 60);
  soundingOnly(bank.reading);
  await bank.keys("1.1⏎.83⏎");
  assert.deepEqual(bank.said(1), [["readings", { value: "0.83", fraction: 0.6 }]]);
  await bank.keys("1.2⏎");
  bank.reading.count();
  pass(bank, 60);
  await bank.keys(".9⏎");
  assert.deepEqual(bank.said(1), [["readings", { value: "0.9", fraction: 0.6, seconds: "40" }]]);
});

test("a count-down stops where the crew is sent elsewhere, and goes on while it stays", async () => {
  const ways: ((reading: Reading) => void)[] = [
    (reading) => reading.choose({ go: "tape", tape: "6.0", inserted: false }),
    dryHere,
    undoLast,
  ];
  for (const leave of ways) {
    const bank = new Bank([], { sound: false, vibration: false });
    await bank.keys("1.05⏎.83⏎");
    bank.reading.count();
    await bank.keys("1.1");
    bank.reading.leaveCount();
    assert.equal(bank.reading.countdown.left, 40);
    leave(bank.reading);
    bank.reading.leaveCount();
    assert.equal(bank.reading.countdown.left, null);
  }
});

test("who can only read keeps no draft, and takes up the one that is kept when writing again", async () => {
  const bank = new Bank();
  await bank.reload();
  bank.reading.followWriter();
  await bank.keys("1.0");
  const draft = bank.drafts.get("alder-fork-1");
  assert.ok(draft);
  await bank.gauging.say("closed", { by: "I. Marrow" });
  bank.reading.followWriter();
  bank.reading.keepDraft();
  await turn();
  assert.equal(bank.reading.shown, "");
  assert.deepEqual(bank.drafts.get("alder-fork-1"), draft);
  await bank.gauging.say("closed", null);
  bank.reading.followWriter();
  await turn();
  assert.equal(bank.reading.shown, "1.0");
});

test("digits typed before entries came from elsewhere are not said of what is asked after them", async () => {
  const bank = new Bank();
  await bank.reload();
  await bank.keys("1.0");
  const v = (part: string) => whatOf("1", "vt", part);
  await bank.receive({ remarks: "weed at the left bank" });
  assert.deepEqual([bank.asked, bank.reading.shown], ["depth, 4.0", "1.0"]);
  await bank.receive({ [v("tape")]: "4.0", [v("depth")]: "1.1" });
  assert.deepEqual([bank.asked, bank.reading.shown], ["velocity at 0.6, 4.0", ""]);
  assert.match(bank.reading.told, /^1\.0 was typed before entries came from elsewhere/);
  await bank.reload();
  assert.equal(bank.reading.shown, "");
});

test("a correction that is being typed does not overwrite one that came meanwhile", async () => {
  const bank = new Bank();
  await bank.keys("10.5⏎.83⏎");
  const what = whatOf("1", bank.reading.touched!.key, "depth");
  bank.reading.enterFigure({ what, label: "Depth at 4.0", quantity: "depth", was: "10.5" });
  await bank.keys("1.05");
  await bank.receive({ [what]: "1.15" });
  assert.deepEqual([bank.reading.entering, bank.reading.shown], [null, ""]);
});

test("until somebody decided whether to wade, nobody is called to a position", async () => {
  const bank = new Bank();
  assert.deepEqual([bank.reading.calling.label, bank.reading.calling.figure], ["Go to", "4.0"]);
  await bank.gauging.say("wading/w1", null);
  const { label, figure, more } = bank.reading.calling;
  assert.deepEqual([label, figure, more], ["Safe to wade? Not decided", "", "waits: go to 4.0 ft"]);
  await bank.keys("1.05⏎");
  assert.deepEqual(bank.said(1), [["depth", "1.05"]]);
});
