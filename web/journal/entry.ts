/** One entry of a gauging's journal: appended, never changed. Figures are texts, as typed. */

export type Value =
  | null
  | boolean
  | number
  | string
  | readonly Value[]
  | { readonly [key: string]: Value };

export interface Entry {
  readonly id: string;
  readonly gauging: string;
  readonly device: string;
  /** One more than the highest that the device knew of in this gauging. */
  readonly sequence: number;
  /** The device's time with its offset from UTC; it never decides anything. */
  readonly at: string;
  /** What is said, such as channels/1/verticals/v3/depth. */
  readonly what: string;
  /** null takes out what stood there. */
  readonly value: Value;
  readonly reason?: string;
  readonly by?: string;
  /** The entries that stood there when this one was written. */
  readonly replaces?: readonly string[];
}

/** Return an instant as ISO 8601 with milliseconds and the device's offset from UTC. */
export function instant(date: Date): string {
  // Zones of former times have seconds in their offset, which the form has no place for.
  const minutes = -Math.round(date.getTimezoneOffset());
  const local = new Date(date.getTime() + minutes * 60_000).toISOString().slice(0, -1);
  const sign = minutes < 0 ? "-" : "+";
  const pad = (n: number) => String(n).padStart(2, "0");
  const hours = Math.trunc(Math.abs(minutes) / 60);
  return `${local}${sign}${pad(hours)}:${pad(Math.abs(minutes) % 60)}`;
}

/** Return what an entry says as one text: equal for the same entry, wherever it comes from. */
export function contentOf({ replaces = [], ...members }: Entry): string {
  return canonical(replaces.length === 0 ? members : { ...members, replaces });
}

/** Return JSON with sorted keys, so that equal values have equal texts. */
export function canonical(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) =>
    part !== null && typeof part === "object" && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => compareTexts(a, b)))
      : part,
  );
}

/** By code units; what is sorted by it holds ASCII letters, figures, "_" and "-" alone. */
export function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
