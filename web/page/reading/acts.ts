/** What a recorder does besides calling figures: each is two taps away. */

import { newKey, type Saying } from "../gauging.svelte.ts";
import { calledOf, edgeOf, other, readingFrom, struck, whatOf, type Bank, type Edge, type VerticalSaid } from "../section.ts";
import type { Reading } from "./reading.svelte.ts";
import { dryCalled, verticalOut } from "./sayings.ts";
import { bringBack, takeBack, type Undo } from "./undo.ts";

/** Take back what this device said last; told in words. */
export function undoLast(reading: Reading): void {
  const undo = takeBack(reading.gauging.entries, reading.device);
  if (undo === null) reading.tell("Nothing is left to take back.");
  else if (typeof undo === "string") reading.tell(undo);
  else sayUndo(reading, undo, "Taken back");
}

export function redoLast(reading: Reading): void {
  const undo = bringBack(reading.gauging.entries, reading.device);
  if (undo !== null) sayUndo(reading, undo, "Brought back");
}

/** Return whether the last thing said took something back, so that it can be brought back. */
export function tookBack(reading: Reading): boolean {
  return bringBack(reading.gauging.entries, reading.device) !== null;
}

/** Say that there is no water where the crew stands. */
export function dryHere(reading: Reading): void {
  const { tape, edge } = reading.present;
  if (tape === null || edge !== null) {
    reading.tell("Say first where the crew stands.");
    return;
  }
  const call = dryCalled({ ...reading.present, tape }, { channel: reading.channelKey, newKey });
  reading.cancel();
  reading.panel = null;
  void reading.say(call.sayings, call.words);
}

/** Go on with a depth alone: the one typed, or the one that stands where a velocity is asked. */
export function soundingOnly(reading: Reading): void {
  const { asked, vertical } = reading.present;
  if (asked.ask === "velocity" && vertical) {
    reading.cancel();
    reading.leave(vertical.key);
    reading.tell(`Sounding only at ${vertical.tape}.`);
  } else if (asked.ask === "depth" && reading.figure !== null) {
    reading.enter();
    if (reading.touched) reading.leave(reading.touched.key);
  } else {
    reading.tell("Type the depth first, then sounding only.");
    return;
  }
  reading.panel = null;
}

/** Read the point again that was read last, at the vertical touched last. */
export function readAgain(reading: Reading): void {
  const vertical = reading.touched;
  const last = vertical?.readings.at(-1);
  if (!vertical || !last) {
    reading.tell("No velocity was read yet.");
    return;
  }
  reading.choose({ go: "again", vertical: vertical.key, fraction: last.fraction });
}

/** Which edge a bank that is met now belongs to: the first one, until that was read. */
export function edgeMet(reading: Reading): Edge {
  return edgeOf(reading.channel, reading.start) ? other(reading.start) : reading.start;
}

export function meetEdge(reading: Reading, bank: Bank): void {
  const typed = reading.quantity === "tape" && reading.entering === null ? reading.typed : null;
  reading.choose({ go: "edge", edge: edgeMet(reading), bank, tape: null });
  if (typed !== null) reading.typed = typed;
}

/** Turn an edge that stands into one of another kind; a steep or undercut one is asked its depth. */
export function changeBank(reading: Reading, vertical: VerticalSaid, bank: Bank): void {
  const { edge, tape, channel, key } = vertical;
  if (edge === null) return;
  if (bank !== "sloping") {
    reading.choose({ go: "edge", edge, bank, tape });
    return;
  }
  const sayings: Saying[] = [
    { what: whatOf(channel, key, "bank"), value: bank },
    { what: whatOf(channel, key, "depth"), value: "0" },
  ];
  void reading.say(sayings, `${edge} edge, sloping, at ${tape}`);
}

export function takeOut(reading: Reading, vertical: VerticalSaid, reason: string): void {
  reading.cancel();
  reading.panel = null;
  void reading.say([verticalOut(vertical, reason || null)], `the vertical at ${vertical.tape} taken out`);
}

export function takeOutReading(reading: Reading, vertical: VerticalSaid, key: string): void {
  const read = vertical.readings.find((one) => one.key === key);
  reading.leave(vertical.key);
  void reading.say(
    [{ what: whatOf(vertical.channel, vertical.key, `readings/${key}`), value: null }],
    `velocity ${read ? calledOf(read) : ""} at ${vertical.tape} taken out`,
  );
}

export function remark(reading: Reading, vertical: VerticalSaid, text: string): void {
  const what = whatOf(vertical.channel, vertical.key, "remark");
  reading.panel = null;
  void reading.say([{ what, value: text.trim() || null }], `remark at ${vertical.tape}`);
}

/** Begin another channel with its own edges, and go there. */
export function newChannel(reading: Reading, name: string): void {
  const key = newKey("c");
  reading.changeChannel(key);
  void reading.say([{ what: `channels/${key}/name`, value: name.trim() }], `channel ${name.trim()}`);
}

/** Return what stood in a place before, each figure as called, oldest first. */
export function formerly(reading: Reading, what: string): { figure: string; reason: string }[] {
  return struck(reading.gauging.folded, what).map(({ value, reason }) => {
    const read = readingFrom(value);
    return { figure: read ? calledOf(read) : String(value), reason: reason ?? "" };
  });
}

function sayUndo(reading: Reading, undo: Undo, how: string): void {
  reading.cancel();
  // What is asked follows from the entries again, at these verticals too.
  for (const { what } of undo.sayings) reading.resume(what.split("/")[3] ?? "");
  void reading.say(undo.sayings, `${how}: ${undo.words}`);
}
