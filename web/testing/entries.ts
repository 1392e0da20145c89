/** Entries for tests: one said after the other on a device, in the order of an object's members. */

import type { Entry, Value } from "../journal/entry.ts";

export function entriesOf(values: Readonly<Record<string, Value>>, device = "a", from = 1): Entry[] {
  return Object.entries(values).map(([what, value], i) => ({
    id: `${device}${from + i}`,
    gauging: "g",
    device,
    sequence: from + i,
    at: `2026-07-14T10:${String(from + i).padStart(2, "0")}:00-07:00`,
    what,
    value,
  }));
}
