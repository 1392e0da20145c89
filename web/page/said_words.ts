/** What was said, in words: the depth at tape 12.3, and what stands there; as the records call it. */

import type { Value } from "../journal/entry.ts";
import { keysUnder, textAt, type Folded } from "../journal/fold.ts";

/** How people call what is said; <k> stands for a key of a device (<c> a channel, <r> a reading). */
export const THINGS: Readonly<Record<string, string>> = {
  "site/stream": "name of the stream",
  "site/name": "name of the site",
  "site/label": "label of the position",
  "site/id": "site of the survey",
  "site/position": "position of the site",
  "units/length": "unit of length",
  "units/velocity": "unit of velocity",
  "units/depth": "unit of depth",
  rule_set: "rule set",
  "crew/<k>": "crew member",
  "meter/kind": "kind of meter",
  "meter/serial": "serial number of the meter",
  "meter/rotor": "size of the rotor",
  "meter/slowest": "least velocity of the meter",
  "meter/shallowest": "least depth of the meter",
  "meter/calibrated": "day of the last calibration",
  "meter/calibration_due": "day by which the meter is to be calibrated",
  "meter/rating": "rating of the meter",
  "meter/checks/<k>": "check of the meter",
  "stage/<k>": "stage",
  no_gauge: "whether there is no staff gauge",
  whole_flow: "whether the whole flow passes",
  repeats: "gauging that is repeated",
  cleared: "when the section was cleared",
  moved: "what was moved",
  date: "date",
  started: "start",
  ended: "end",
  quality: "quality",
  remarks: "remarks",
  zero_bank: "bank of the tape's zero",
  start_bank: "bank of the start",
  "wading/<k>": "decision on wading",
  plan: "plan",
  soundings: "depths sounded for the plan",
  target: "uncertainty that is wanted",
  decimals: "decimals",
  "channels/<c>/name": "name of the channel",
  "channels/<c>/order": "order of the verticals",
  "channels/<c>/verticals/<k>/tape": "tape position",
  "channels/<c>/verticals/<k>/edge": "edge of water",
  "channels/<c>/verticals/<k>/bank": "form of the bank",
  "channels/<c>/verticals/<k>/depth": "depth",
  "channels/<c>/verticals/<k>/dry": "whether it is dry",
  "channels/<c>/verticals/<k>/angle": "angle of the flow",
  "channels/<c>/verticals/<k>/angle_coefficient": "angle coefficient",
  "channels/<c>/verticals/<k>/wall_factor": "wall factor",
  "channels/<c>/verticals/<k>/at": "time of the vertical",
  "channels/<c>/verticals/<k>/remark": "remark",
  "channels/<c>/verticals/<k>/inserted": "whether it was inserted",
  "channels/<c>/verticals/<k>/readings/<r>": "velocity",
  "answers/<k>": "answer to a finding",
  "photos/<k>": "photo",
  closed: "closing",
  "corrections/<k>": "correction on the sheet",
  filed: "total as filed",
  "filed/panels/<k>": "panel as filed",
  "copied/<k>": "copy of a record",
  review: "review",
};

const PATTERNS = Object.entries(THINGS).map(
  ([pattern, words]) =>
    [new RegExp(`^${pattern.replace(/<.>/g, "([A-Za-z0-9_-]+)")}$`), words] as const,
);

/** Return how people call what was said something about: depth at tape 12.3. */
export function thingOf(folded: Folded, what: string, value: Value = null): string {
  for (const [pattern, words] of PATTERNS) {
    const found = pattern.exec(what);
    if (found === null) continue;
    if (what.startsWith("filed/panels/")) return words + panelWords(folded, value);
    const [, channel, vertical, reading] = found;
    if (channel === undefined || !what.startsWith("channels/")) return words;
    const where = channelWords(folded, channel);
    if (vertical === undefined || what.endsWith("/tape")) return words + where;
    const name = reading === undefined ? words : words + pointWords(value);
    return `${name} at ${tapeWords(folded, channel, vertical)}${where}`;
  }
  return what;
}

/** What parts of a value are called where their names are none that people use. */
const PARTS: Readonly<Record<string, string>> = {
  accuracy_m: "accuracy in m",
  discharge_m3s: "discharge in m³/s",
  last_product: "last product of depth and velocity",
  lat: "latitude",
  lon: "longitude",
  method_version: "version of the method",
  minimum_spacing: "least spacing",
  rod_setting: "rod setting",
  sha256: "checksum",
  state: "checksum of the entries",
  up_to: "up to",
};
/** Parts that are said first, and need no name. */
const FIRST = ["value", "verdict", "purpose", "check", "name"];
/** Parts that tell machines what people see otherwise. */
const FOR_MACHINES = new Set(["sha256", "state", "type", "channel", "vertical"]);

/** Return a value in words, figures as they were typed and nothing left out. */
export function wordsOf(value: Value): string {
  if (value === null) return "taken out";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (isList(value)) return value.map(wordsOf).join("; ") || "blank";
  if (typeof value === "object") {
    const first = FIRST.filter((name) => value[name] !== undefined).map((name) => wordsOf(value[name]!));
    const others = Object.entries(value).filter(([name]) => !FIRST.includes(name));
    return [...first, ...others.map(([name, part]) => `${PARTS[name] ?? name} ${wordsOf(part)}`)].join(", ") || "blank";
  }
  return String(value).trim() === "" ? "blank" : String(value);
}

/** Return what was said of something as people read it: without keys of devices and checksums. */
export function saidOf(what: string, value: Value): string {
  if (typeof value === "string") return momentWords(value);
  if (value === null || typeof value !== "object") return wordsOf(value);
  if (isList(value)) return what.endsWith("/order") ? `${value.length} verticals` : wordsOf(value);
  const parts = Object.entries(value).filter(([name]) => !FOR_MACHINES.has(name));
  return wordsOf(Object.fromEntries(parts.map(([name, part]) => [name, typeof part === "string" ? momentWords(part) : part])));
}

/** Return an instant by the clock that it was read from; any other text as it is. */
function momentWords(text: string): string {
  const found = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d)(?::[\d.]+)?(Z|[+-]\d\d:\d\d)$/.exec(text);
  if (found === null) return wordsOf(text);
  return `${found[1]} ${found[2]} (${found[3] === "Z" ? "UTC" : found[3]})`;
}

function isList(value: Value): value is readonly Value[] {
  return Array.isArray(value);
}

function pointWords(value: Value): string {
  if (value === null || typeof value !== "object" || !("fraction" in value)) return "";
  return ` at ${String(value.fraction)} of the depth`;
}

function panelWords(folded: Folded, value: Value): string {
  const { channel, vertical } = (value ?? {}) as Readonly<Record<string, unknown>>;
  if (typeof channel !== "string" || typeof vertical !== "string") return "";
  return ` at ${tapeWords(folded, channel, vertical)}${channelWords(folded, channel)}`;
}

/** A vertical is called by the last tape position that was said, be it taken out since. */
function tapeWords(folded: Folded, channel: string, vertical: string): string {
  const history = folded.get(`channels/${channel}/verticals/${vertical}/tape`)?.history ?? [];
  const last = history.filter(({ value }) => value !== null).at(-1);
  return last ? `tape ${wordsOf(last.value)}` : "a vertical without a tape position";
}

function channelWords(folded: Folded, channel: string): string {
  if (keysUnder(folded, "channels").length < 2) return "";
  return `, channel ${textAt(folded, `channels/${channel}/name`) ?? channel}`;
}
