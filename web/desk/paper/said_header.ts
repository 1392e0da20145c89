/** What stands around the readings on a paper sheet, as the entries that say it. */

import { instant, type Value } from "../../journal/entry.ts";
import { keysUnder, textAt, valueAt, type Folded } from "../../journal/fold.ts";
import type { Saying } from "../../page/gauging.svelte.ts";

export const CREW_ROLES = [
  { role: "rod", words: "Rod and meter by" },
  { role: "recorder", words: "Recorded by" },
  { role: "leader", words: "Led by" },
] as const;

export interface StageSaid {
  readonly key: string;
  readonly value: string;
  /** Such as 10:05; "" where no time stands. */
  readonly time: string;
}

/** Return who did something, "" where nobody is named. */
export function memberIn(folded: Folded, role: string): string {
  const value = valueAt(folded, `crew/${memberKey(folded, role)}`) as { readonly name?: unknown } | null | undefined;
  return typeof value?.name === "string" ? value.name : "";
}

export function memberSaying(folded: Folded, role: string, name: string): Saying {
  const what = `crew/${memberKey(folded, role)}`;
  const there = valueAt(folded, what) as { readonly role?: unknown } | null | undefined;
  const roles = typeof there?.role === "string" ? there.role : role;
  return { what, value: name === "" ? null : { name, role: roles } };
}

/** Return the two stages that a sheet has room for. */
export function stagesIn(folded: Folded): StageSaid[] {
  return ["s1", "s2"].map((key) => {
    const value = valueAt(folded, `stage/${key}`) as { readonly value?: unknown; readonly at?: unknown } | null | undefined;
    return {
      key,
      value: typeof value?.value === "string" ? value.value : "",
      time: typeof value?.at === "string" ? timeIn(value.at) : "",
    };
  });
}

/** Return the entry of a stage; its time counts on the day of the sheet. */
export function stageSaying(folded: Folded, key: string, value: string, time: string): Saying {
  const at = momentOn(textAt(folded, "date"), time);
  return { what: `stage/${key}`, value: value === "" ? null : { value, ...(at === null ? {} : { at }) } };
}

/** Return a check of the meter as it was written down, "" where none was. */
export function checkIn(folded: Folded, kind: "spin" | "zero", when: "before" | "after"): string {
  const value = valueAt(folded, `meter/checks/${checkKey(folded, kind, when)}`) as { readonly [name: string]: Value } | null | undefined;
  const text = value?.[kind === "spin" ? "seconds" : "value"];
  return typeof text === "string" ? text : "";
}

export function checkSaying(folded: Folded, kind: "spin" | "zero", when: "before" | "after", text: string): Saying {
  const what = `meter/checks/${checkKey(folded, kind, when)}`;
  return { what, value: text === "" ? null : { kind, when, [kind === "spin" ? "seconds" : "value"]: text } };
}

/** Return the entry of a moment on the day of the sheet; null where the day is not known. */
export function momentSaying(folded: Folded, what: "started" | "ended", time: string): Saying | null {
  if (time === "") return { what, value: null };
  const at = momentOn(textAt(folded, "date"), time);
  return at === null ? null : { what, value: at };
}

/** Return the time of day of a moment as it was said, "" where none is. */
export function timeIn(moment: string | undefined): string {
  return /T(\d\d:\d\d)/.exec(moment ?? "")?.[1] ?? "";
}

/** Return the entries of another day: the times of the sheet move to it. */
export function daySayings(folded: Folded, day: string): Saying[] {
  const moved = (["started", "ended"] as const).flatMap((what): Saying[] => {
    const time = timeIn(textAt(folded, what));
    const at = momentOn(day, time);
    return at === null ? [] : [{ what, value: at }];
  });
  const stages = stagesIn(folded)
    .filter(({ time }) => time !== "")
    .map(({ key, value, time }): Saying => ({ what: `stage/${key}`, value: { value, at: momentOn(day, time)! } }));
  return [{ what: "date", value: day === "" ? null : day }, ...(day === "" ? [] : [...moved, ...stages])];
}

/** In the time of this device, as no sheet says its offset from UTC. */
function momentOn(day: string | undefined, time: string): string | null {
  if (!day || time === "") return null;
  const moment = new Date(`${day}T${time}`);
  return Number.isNaN(moment.getTime()) ? null : instant(moment);
}

function memberKey(folded: Folded, role: string): string {
  const there = keysUnder(folded, "crew").find((key) => {
    const value = valueAt(folded, `crew/${key}`) as { readonly role?: unknown } | null;
    return typeof value?.role === "string" && value.role.split(",").some((one) => one.trim() === role);
  });
  return there ?? role;
}

function checkKey(folded: Folded, kind: string, when: string): string {
  const there = keysUnder(folded, "meter/checks").find((key) => {
    const value = valueAt(folded, `meter/checks/${key}`) as { readonly kind?: unknown; readonly when?: unknown } | null;
    return value?.kind === kind && value.when === when;
  });
  return there ?? `${kind}-${when}`;
}
