/** Journals for tests: an invented stream and crew, and random journals that can be made again. */

import type { Entry, Value } from "../journal/entry.ts";

export const GAUGING = "5f0c2a9e-1111-4222-8333-444455556666";

/** Return an entry of the gauging at Alder Fork, changed where the test says. */
export function entry(changed: Partial<Entry> & { readonly id: string }): Entry {
  return {
    gauging: GAUGING,
    device: "phone",
    sequence: 1,
    at: "2026-07-14T10:12:03.250-07:00",
    what: "site/stream",
    value: "Alder Fork",
    ...changed,
  };
}

/** Return numbers from 0 up to 1, the same for the same seed (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** Return the items in an order that the generator decides. */
export function shuffled<T>(items: readonly T[], random: () => number): T[] {
  const left = [...items];
  for (let i = left.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [left[i], left[j]] = [left[j]!, left[i]!];
  }
  return left;
}

/**
 * Return a journal as two devices write it that see each other's entries now and then: each entry
 * replaces the heads that its device knows.
 */
export function randomJournal(random: () => number, count: number): Entry[] {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!;
  const known: Record<string, Entry[]> = { phone: [], tablet: [] };
  const all: Entry[] = [];
  for (let i = 0; i < count; i++) {
    const device = pick(["phone", "tablet"]);
    if (random() < 0.2) known[device] = [...all];
    const own = known[device]!;
    const what = pick(["site/stream", "meter/kind", "channels/1/verticals/v1/depth"]);
    const value: Value = pick(["1.0", "1.00", "1.05", null, true]);
    const replaced = new Set(own.flatMap(({ replaces }) => replaces ?? []));
    const heads = own.filter((one) => one.what === what && !replaced.has(one.id));
    const made = entry({
      id: `e${i}-${Math.floor(random() * 1e9)}`,
      device,
      sequence: 1 + Math.max(0, ...own.map(({ sequence }) => sequence)),
      what,
      value,
      ...(heads.length === 0 ? {} : { replaces: heads.map(({ id }) => id) }),
    });
    own.push(made);
    all.push(made);
  }
  return all;
}
