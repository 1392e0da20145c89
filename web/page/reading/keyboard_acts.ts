/** Does what a letter key means. */

import { dryHere, readAgain, soundingOnly, undoLast } from "./acts.ts";
import type { Act } from "./keyboard.ts";
import type { Reading } from "./reading.svelte.ts";

export function act(reading: Reading, what: Act): void {
  if (what === "other") reading.panel = { open: "other" };
  else if (what === "correct") reading.panel = { open: "verticals" };
  else if (what === "cancel") reading.cancel();
  else if (what === "count") reading.count();
  else if (reading.gauging.readOnly) reading.tell("This gauging can only be read here.");
  else if (what === "enter") reading.enter();
  else if (what === "take back") undoLast(reading);
  else if (what === "go") reading.choose({ go: "type", inserted: false });
  else if (what === "insert") reading.choose({ go: "type", inserted: true });
  else if (what === "again") readAgain(reading);
  else if (what === "dry") dryHere(reading);
  else soundingOnly(reading);
}
