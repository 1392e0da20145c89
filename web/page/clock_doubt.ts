/** Whether the clock of this device is plainly wrong; nothing goes by the answer, it is told. */

import { dayOf, timeOf } from "./moments.ts";

/** The app did not exist before (ours). A clock whose battery was empty begins years earlier. */
const FIRST_DAY = Date.parse("2026-01-01T00:00:00Z");
/** A clock that a network sets steps by less; assumed, as for the server's in `archive/clock.py`. */
const STEP_MS = 300_000;

export interface ClockSeen {
  /** What the clock says, in ms since 1970. */
  readonly now: number;
  /** When each entry of the gauging was written, by the clock of its device. */
  readonly written: readonly string[];
  /** By how many ms the server's clock is ahead, as `aheadOf` gives it; null where none was heard. */
  readonly ahead: number | null;
}

/** Return why the clock cannot be right and what to do, in sentences; null where it may be. */
export function clockDoubt({ now, written, ahead }: ClockSeen): string | null {
  const why = whyWrong(now, written, ahead);
  if (why === null) return null;
  return `${why} Set date and time in the device's settings; readings go on meanwhile, and nothing that was written is changed.`;
}

function whyWrong(now: number, written: readonly string[], ahead: number | null): string | null {
  const says = `This device's clock says ${moment(now)}`;
  if (now < FIRST_DAY) return `${says}, when this app was not yet made: it is wrong.`;
  if (ahead !== null && isOff(ahead)) {
    return `${says}, the server's ${moment(now + ahead)}: one of them is wrong.`;
  }
  const last = Math.max(...written.map((at) => Date.parse(at)).filter((at) => !Number.isNaN(at)));
  if (last - now <= STEP_MS) return null;
  return `${says}, and an entry of this gauging was written on ${moment(last)}, which is still to come: one of the clocks was wrong.`;
}

/** Whether the server's clock and this device's differ by more than a clock steps. */
export function isOff(ahead: number | null): boolean {
  return ahead !== null && Math.abs(ahead) > STEP_MS;
}

/**
 * Return by how many ms a server was at least ahead, below 0 behind, by the date of its answer to what
 * was sent and received at these moments; null where it gives none.
 */
export function aheadOf(date: string | null, sent: number, received: number): number | null {
  const at = date === null ? NaN : Date.parse(date);
  if (Number.isNaN(at)) return null;
  if (at < sent) return at - sent;
  return Math.max(0, at - received);
}

function moment(at: number): string {
  const instant = new Date(at).toISOString();
  return `${dayOf(instant)}, ${timeOf(instant)}`;
}
