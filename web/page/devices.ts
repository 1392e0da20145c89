/** Devices as people tell them apart: this one, and others by the first letters of their names. */

export function deviceWords(device: string, own: string): string {
  return device === own ? "this device" : `device ${device.slice(0, 4).toUpperCase()}`;
}
