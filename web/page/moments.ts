/** Moments as people read them, in the time of this device. */

const DAY = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric" });
const TIME = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit" });

/** Return the day of an instant, such as 14 Jul 2026; the text itself where it is none. */
export function dayOf(instant: string): string {
  const ms = Date.parse(instant);
  return Number.isNaN(ms) ? instant : DAY.format(ms);
}

/** Return the time of day of an instant, such as 10:05; the text itself where it is none. */
export function timeOf(instant: string): string {
  const ms = Date.parse(instant);
  return Number.isNaN(ms) ? instant : TIME.format(ms);
}

/** Return an instant as an input of type datetime-local holds it: 2026-07-14T10:05. */
export function localOf(instant: string): string {
  const ms = Date.parse(instant);
  if (Number.isNaN(ms)) return "";
  const minutes = new Date(ms).getTimezoneOffset();
  return new Date(ms - minutes * 60_000).toISOString().slice(0, 16);
}
