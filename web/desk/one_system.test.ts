import assert from "node:assert/strict";
import { test } from "node:test";

import { inOneSystem } from "./one_system.ts";

const SAID =
  "0.100 m³/s (3.54 ft³/s) come in, between -0.0131 m³/s (-0.462 ft³/s) and ± 0.015 m³/s (0.54 ft³/s); " +
  "0.030 m (0.10 ft) higher (about 19 in 20).";

test("an area that is drained is told in the system that was chosen", () => {
  assert.equal(inOneSystem("27.2 km² drain in between.", "ft"), "10.5 mi² drain in between.");
  assert.equal(inOneSystem("27.2 km² drain in between.", "m"), "27.2 km² drain in between.");
});

test("a sentence in both systems is told in the one that was chosen", () => {
  assert.equal(
    inOneSystem(SAID, "ft"),
    "3.54 ft³/s come in, between -0.462 ft³/s and ± 0.54 ft³/s; 0.10 ft higher (about 19 in 20).",
  );
  assert.equal(
    inOneSystem(SAID, "m"),
    "0.100 m³/s come in, between -0.0131 m³/s and ± 0.015 m³/s; 0.030 m higher (about 19 in 20).",
  );
});
