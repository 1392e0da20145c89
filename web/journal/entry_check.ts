/** What makes a value an entry: the same rules as in Python, which refuses a journal that breaks one. */

import type { Value } from "./entry.ts";

const KEY = /^[A-Za-z0-9_-]{1,64}$/;
const WHAT = /^[A-Za-z0-9_-]{1,64}(\/[A-Za-z0-9_-]{1,64}){0,7}$/;
const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)$/;
const MOST_LEVELS = 8;

type Rule = readonly [holds: (value: unknown) => boolean, wants: string];

const key: Rule = [
  (value) => typeof value === "string" && KEY.test(value),
  'a text of 1 to 64 letters from A to Z, figures, "_" or "-"',
];
const words: Rule = [
  (value) => typeof value === "string" && value.trim() !== "",
  "a text that is not blank",
];
const NEEDED: Readonly<Record<string, Rule>> = {
  id: key,
  gauging: key,
  device: key,
  sequence: [
    (value) => Number.isSafeInteger(value) && (value as number) >= 1,
    "a whole number of at least 1",
  ],
  at: [
    (value) =>
      typeof value === "string" && INSTANT.test(value) && !Number.isNaN(Date.parse(value)),
    "a date and time with its offset from UTC, such as 2026-07-14T10:12:03-07:00",
  ],
  what: [
    (value) => typeof value === "string" && WHAT.test(value),
    'names joined by "/", such as channels/1/verticals/v3/depth',
  ],
  value: [
    (value) => isValue(value),
    `a JSON value with finite numbers, at most ${MOST_LEVELS} levels deep`,
  ],
};
const FREE: Readonly<Record<string, Rule>> = {
  reason: words,
  by: words,
  replaces: [
    (value) =>
      Array.isArray(value) && value.every(key[0]) && new Set(value).size === value.length,
    "a list of ids of entries, each once",
  ],
};

/** Return what keeps a value from being an entry, null if it is one; "what must be … (got …)". */
export function entryFault(value: unknown): string | null {
  if (!isObject(value)) return `an entry must be an object (got ${brief(value)})`;
  for (const [name, [holds, wants]] of Object.entries({ ...NEEDED, ...FREE })) {
    if (!(name in value)) {
      if (name in NEEDED) return `${name} must be given`;
    } else if (!holds(value[name])) return `${name} must be ${wants} (got ${brief(value[name])})`;
  }
  const unknown = Object.keys(value).find((name) => !(name in NEEDED) && !(name in FREE));
  if (unknown !== undefined) return `an entry has no ${brief(unknown)}`;
  if ((value["replaces"] as unknown[] | undefined)?.includes(value["id"])) {
    return "replaces must hold ids of other entries (got its own)";
  }
  return null;
}

/** Whether something is a plain JSON object. */
export function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Return a value as short text for a message. */
export function brief(value: unknown): string {
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

function isValue(value: unknown, level = 0): value is Value {
  if (level > MOST_LEVELS) return false;
  if (typeof value === "number") {
    return Number.isFinite(value) && Math.abs(value) <= Number.MAX_SAFE_INTEGER;
  }
  if (Array.isArray(value)) return value.every((part) => isValue(part, level + 1));
  if (isObject(value)) return Object.values(value).every((part) => isValue(part, level + 1));
  return value === null || typeof value === "boolean" || typeof value === "string";
}
