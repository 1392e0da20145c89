import assert from "node:assert/strict";
import { test } from "node:test";

import { distance_m, meanFix } from "./position_mean.ts";

function near(found: number, wanted: number, within: number): void {
  assert.ok(Math.abs(found - wanted) <= within, `${found} is not within ${within} of ${wanted}`);
}

test("no fix has no mean, and one fix is its own", () => {
  assert.equal(meanFix([]), null);
  const mean = meanFix([{ lon: -122.5, lat: 45.25, accuracy_m: 6 }])!;
  assert.deepEqual([mean.lon, mean.lat, mean.accuracy_m, mean.fixes], [-122.5, 45.25, 6, 1]);
});

test("a fix that is three times as sure counts nine times", () => {
  // By hand: (9 · 10 + 1 · 20) / 10 = 11, and the accuracy (9 · 3 + 1 · 9) / 10 = 3.6.
  const mean = meanFix([
    { lon: 10, lat: 0, accuracy_m: 3 },
    { lon: 20, lat: 0, accuracy_m: 9 },
  ])!;
  near(mean.lon, 11, 1e-12);
  near(mean.accuracy_m, 3.6, 1e-12);
});

test("many fixes of one accuracy are not told to be surer than each", () => {
  const fix = { lon: 1, lat: 2, accuracy_m: 5 };
  near(meanFix(Array.from({ length: 100 }, () => fix))!.accuracy_m, 5, 1e-12);
});

test("fixes on both sides of the 180th meridian have their mean between them", () => {
  const mean = meanFix([
    { lon: 179.999, lat: 0, accuracy_m: 5 },
    { lon: -179.997, lat: 0, accuracy_m: 5 },
  ])!;
  near(mean.lon, -179.999, 1e-9);
});

test("a degree of latitude is 111.2 km, one of longitude half of it at 60 degrees", () => {
  // 6371 km · π / 180 = 111.19 km; cos 60° = 0.5.
  near(distance_m({ lon: 0, lat: 10 }, { lon: 0, lat: 11 }), 111_190, 20);
  near(distance_m({ lon: 0, lat: 60 }, { lon: 1, lat: 60 }), 55_600, 100);
  near(distance_m({ lon: 179.5, lat: 0 }, { lon: -179.5, lat: 0 }), 111_190, 20);
});
