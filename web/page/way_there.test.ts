import assert from "node:assert/strict";
import { test } from "node:test";

import { wayThere } from "./way_there.ts";

const HERE = { lon: -122, lat: 47 };
// One degree of latitude is 111.2 km on a sphere of 6,371 km; of longitude at 47° 75.8 km.
const by = (north_m: number, east_m: number) => ({
  lat: HERE.lat + north_m / 111_195,
  lon: HERE.lon + east_m / 75_834,
});
const words = (there: typeof HERE, accuracy_m?: number) => wayThere(HERE, there, accuracy_m).words;

test("the way to the planned section is a distance and a wind", () => {
  const winds = [
    [30, 0, "north"],
    [30, 30, "north-east"],
    [0, 30, "east"],
    [-30, 30, "south-east"],
    [-30, 0, "south"],
    [-30, -30, "south-west"],
    [0, -30, "west"],
    [30, -30, "north-west"],
  ] as const;
  for (const [north, east, wind] of winds) {
    const away = Math.hypot(north, east).toFixed(0);
    assert.equal(words(by(north, east), 4), `The planned section is ${away} m ± 4 m to the ${wind} of here.`);
  }
});

test("what is nearer than the receiver can tell is there, and what is far is asked about", () => {
  assert.equal(words(by(9, 0), 12), "At the planned section, as far as can be told: 9 m from it ± 12 m.");
  assert.equal(wayThere(HERE, by(99, 0), 5).far, false);
  assert.equal(wayThere(HERE, by(140, 0), 50).far, false);
  assert.equal(wayThere(HERE, by(101, 0), undefined).far, true);
  assert.equal(
    words(by(2300, 0), 5),
    "The planned section is 2.3 km ± 5 m to the north of here. Is this the right site?",
  );
});

test("the 180th meridian is no way round the world", () => {
  const [here, there] = [{ lon: 179.9999, lat: 0 }, { lon: -179.9999, lat: 0 }];
  assert.equal(wayThere(here, there, 3).words, "The planned section is 22 m ± 3 m to the east of here.");
});
