/** What stands on the map of a survey: how large each site is drawn, and what is written beside it. */

import type { SiteFeature, StreamFeature, SurveyMap } from "../asking/map.ts";

export type SizedBy = "discharge" | "unit discharge" | "nothing";

export interface SiteMark {
  readonly id: string;
  readonly site: SiteFeature["properties"];
  /** null where nobody wrote down where the site is. */
  readonly at: { readonly lat: number; readonly lon: number } | null;
  /** In pixels. */
  readonly radius: number;
  /** Whether the figure that it is sized by is not known. */
  readonly unknown: boolean;
}

const SMALLEST = 6;
const LARGEST = 26;
const ALIKE = 9;

/** Return the sites in the order given; the circles' areas are in proportion to the figures. */
export function siteMarks({ features }: SurveyMap, sizedBy: SizedBy): SiteMark[] {
  const sites = features.filter((one): one is SiteFeature => one.properties.kind === "site");
  const most = Math.max(...sites.map((site) => figureOf(site, sizedBy) ?? 0), 0);
  return sites.map((site) => {
    const figure = figureOf(site, sizedBy);
    const [lon, lat] = site.geometry?.coordinates ?? [];
    return {
      id: site.properties.id,
      site: site.properties,
      at: lon === undefined || lat === undefined ? null : { lat, lon },
      radius: radiusOf(figure, most, sizedBy),
      unknown: figure === null && sizedBy !== "nothing",
    };
  });
}

/** Return the streams whose course is known. */
export function courses({ features }: SurveyMap): { readonly name: string; readonly line: readonly [number, number][] }[] {
  return features
    .filter((one): one is StreamFeature => one.properties.kind === "stream")
    .filter(({ geometry }) => geometry !== null && geometry.coordinates.length > 1)
    .map(({ geometry, properties }) => ({
      name: properties.name,
      line: geometry!.coordinates.map(([lon, lat]): [number, number] => [lat, lon]),
    }));
}

function figureOf({ properties }: SiteFeature, sizedBy: SizedBy): number | null {
  if (sizedBy === "discharge") return properties.discharge_m3s;
  return sizedBy === "unit discharge" ? properties.unit_discharge_l_s_km2 : null;
}

function radiusOf(figure: number | null, most: number, sizedBy: SizedBy): number {
  if (sizedBy === "nothing") return ALIKE;
  if (figure === null || most <= 0) return SMALLEST;
  return Math.max(SMALLEST, LARGEST * Math.sqrt(Math.max(figure, 0) / most));
}
