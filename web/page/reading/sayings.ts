/** What a called figure says in the journal, and in the words that tell the recorder. */

import type { Value } from "../../journal/entry.ts";
import { valueAt, type Folded } from "../../journal/fold.ts";
import type { Saying } from "../gauging.svelte.ts";
import { readingFrom, whatOf, type Bank, type Edge, type VerticalSaid } from "../section.ts";
import type { Member } from "./draft.ts";
import type { Present } from "./next.ts";

export interface Call {
  readonly sayings: readonly Saying[];
  /** The vertical that they are about. */
  readonly vertical: string;
  /** What was said, in words: "depth 1.05 at 14.5". */
  readonly words: string;
}

export interface Keys {
  readonly channel: string;
  readonly newKey: (letter: string) => string;
}

/** Return what it says when a depth is called where the crew stands. */
export function depthCalled(present: Present & { tape: string }, depth: string, keys: Keys): Call {
  const key = present.vertical?.key ?? keys.newKey("v");
  const { tape, edge, bank } = present;
  if (edge !== null && bank !== null) return edgeCalled({ key, edge, bank, tape, depth }, keys.channel);
  return {
    vertical: key,
    sayings: [...placing(present, key, keys.channel), say(keys.channel, key, "depth", depth)],
    words: `depth ${depth} at ${tape}`,
  };
}

/**
 * Return what it says when the tape is read at an edge of water. A sloping one has depth 0; that of
 * a steep or undercut one is called next, and what stood there before is taken out.
 */
export function edgeTapeCalled(
  { edge, bank, vertical }: { edge: Edge; bank: Bank; vertical: VerticalSaid | null },
  tape: string,
  keys: Keys,
): Call {
  const key = vertical?.key ?? keys.newKey("v");
  return edgeCalled({ key, edge, bank, tape, depth: bank === "sloping" ? "0" : null }, keys.channel);
}

/** Return what it says when a tape position is called that nobody planned. */
export function tapeCalled(tape: string, inserted: boolean, keys: Keys): Call {
  const key = keys.newKey("v");
  return {
    vertical: key,
    sayings: [
      say(keys.channel, key, "tape", tape),
      ...(inserted ? [say(keys.channel, key, "inserted", true)] : []),
    ],
    words: `tape position ${tape}`,
  };
}

/** Return what it says when a place turns out to carry no water. */
export function dryCalled(present: Present & { tape: string }, keys: Keys): Call {
  const key = present.vertical?.key ?? keys.newKey("v");
  const emptied = present.vertical
    ? [
        ...(present.vertical.depth === null ? [] : [say(keys.channel, key, "depth", null)]),
        ...present.vertical.readings.map((reading) =>
          say(keys.channel, key, `readings/${reading.key}`, null),
        ),
      ]
    : [];
  return {
    vertical: key,
    sayings: [...placing(present, key, keys.channel), ...emptied, say(keys.channel, key, "dry", true)],
    words: `dry at ${present.tape}`,
  };
}

/** What is called of a meter: a velocity, with seconds if they were counted, or its counts. */
export type Read =
  | { readonly velocity: string; readonly seconds: string | null }
  | { readonly counts: string; readonly seconds: string };

/** Return what it says when a velocity is called at a point; null for the mean of the vertical. */
export function velocityCalled(
  vertical: VerticalSaid,
  read: Read,
  fraction: number | null,
  keys: Keys,
): Call {
  const value: Value = {
    ...("velocity" in read ? { value: read.velocity } : { counts: read.counts }),
    ...(fraction === null ? {} : { fraction }),
    ...(read.seconds === null ? {} : { seconds: read.seconds }),
  };
  const called = "velocity" in read ? `velocity ${read.velocity}` : `${read.counts} counts`;
  return {
    vertical: vertical.key,
    sayings: [say(keys.channel, vertical.key, `readings/${keys.newKey("r")}`, value)],
    words: `${called} at ${vertical.tape}`,
  };
}

/**
 * Return the saying that puts another figure in a place. Of a reading one member changes and the
 * others stay; whatever else stands there is a text.
 */
export function corrected(
  folded: Folded,
  what: string,
  figure: string,
  { reason, member }: { readonly reason: string | null; readonly member: Member | undefined },
): Saying {
  const there = valueAt(folded, what);
  const value: Value =
    readingFrom(there) === null || member === undefined
      ? figure
      : { ...(there as { [key: string]: Value }), [member]: figure };
  return { what, value, ...(reason ? { reason } : {}) };
}

/** Return what takes a vertical out: its tape position goes, and everything stays in the journal. */
export function verticalOut(vertical: VerticalSaid, reason: string | null): Saying {
  return {
    what: whatOf(vertical.channel, vertical.key, "tape"),
    value: null,
    ...(reason ? { reason } : {}),
  };
}

function edgeCalled(
  {
    key,
    edge,
    bank,
    tape,
    depth,
  }: { key: string; edge: Edge; bank: Bank; tape: string; depth: string | null },
  channel: string,
): Call {
  return {
    vertical: key,
    sayings: [
      say(channel, key, "tape", tape),
      say(channel, key, "edge", edge),
      say(channel, key, "bank", bank),
      say(channel, key, "depth", depth),
    ],
    words:
      bank === "sloping" || depth === null
        ? `${edge} edge at ${tape}`
        : `${edge} edge, ${bank}, depth ${depth} at ${tape}`,
  };
}

/** The entries with which a vertical begins; none where it stands already. */
function placing(present: Present & { tape: string }, key: string, channel: string): Saying[] {
  if (present.vertical) return [];
  return [
    say(channel, key, "tape", present.tape),
    ...(present.inserted ? [say(channel, key, "inserted", true)] : []),
  ];
}

function say(channel: string, key: string, part: string, value: Value): Saying {
  return { what: whatOf(channel, key, part), value };
}
