import assert from "node:assert/strict";
import { test } from "node:test";

import type { SiteFeature, SurveyMap } from "../asking/map.ts";
import { courses, siteMarks } from "./map_marks.ts";

function site(id: string, more: Partial<SiteFeature["properties"]>, at: readonly [number, number] | null = [-1.4, 45.6]): SiteFeature {
  return {
    type: "Feature",
    geometry: at === null ? null : { type: "Point", coordinates: at },
    properties: {
      kind: "site",
      id,
      stream: "Alder Fork",
      name: id,
      label: null,
      visits: 1,
      gauging: null,
      day: null,
      discharge_m3s: null,
      unit_discharge_l_s_km2: null,
      ...more,
    },
  };
}

const MAP: SurveyMap = {
  type: "FeatureCollection",
  features: [
    { type: "Feature", geometry: { type: "LineString", coordinates: [[-1.4, 45.6], [-1.3, 45.5]] }, properties: { kind: "stream", name: "Alder Fork" } },
    { type: "Feature", geometry: null, properties: { kind: "stream", name: "Quill Brook" } },
    site("large", { discharge_m3s: 4, unit_discharge_l_s_km2: 5 }),
    site("small", { discharge_m3s: 1, unit_discharge_l_s_km2: 20 }, null),
    site("not gauged", {}),
  ],
};

test("a circle of four times the discharge has four times the area", () => {
  const [large, small] = siteMarks(MAP, "discharge");
  assert.ok(Math.abs((large!.radius / small!.radius) ** 2 - 4) < 1e-9);
});

test("sized by unit discharge the smaller stream may be the larger circle, or all are alike", () => {
  const [large, small] = siteMarks(MAP, "unit discharge");
  assert.ok(small!.radius > large!.radius);
  assert.equal(new Set(siteMarks(MAP, "nothing").map(({ radius }) => radius)).size, 1);
});

test("what is not known stays: a site without a figure is marked so, one without a place has none", () => {
  const [large, small, none] = siteMarks(MAP, "discharge");
  assert.deepEqual([large!.unknown, none!.unknown], [false, true]);
  assert.deepEqual([large!.at, small!.at], [{ lat: 45.6, lon: -1.4 }, null]);
});

test("a course is latitude before longitude, and a stream without one is not drawn", () => {
  assert.deepEqual(courses(MAP), [{ name: "Alder Fork", line: [[45.6, -1.4], [45.5, -1.3]] }]);
});
