/** Devices as people tell them apart: this one, and others by the first letters of their names. */

import type { Entry } from "../journal/entry.ts";

const FEWEST = 4;

/** Return what every device that wrote is called; own is the name of this device. */
export function deviceNames(entries: Iterable<Entry>, own: string): ReadonlyMap<string, string> {
  const devices = [...new Set([...entries].map(({ device }) => device))];
  const longest = Math.max(...devices.map(({ length }) => length));
  const short = (device: string, letters: number) => device.slice(0, letters).toUpperCase();
  let letters = FEWEST;
  while (letters < longest && new Set(devices.map((one) => short(one, letters))).size < devices.length) {
    letters += 1;
  }
  return new Map(
    devices.map((device) => [
      device,
      device === own ? "this device" : `device ${short(device, letters)}`,
    ]),
  );
}
