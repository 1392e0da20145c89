/** The sites of a survey with what was gauged there: one line each, in the order of the water. */

import type { DeskSurvey, Row, SurveySite } from "./asking/answers.ts";
import { openOf, waits } from "./shown.ts";

export interface SiteLine extends SurveySite {
  /** From the sources down, beginning with 1. */
  readonly order: number;
  /** The last gauging with a discharge, null where there is none. */
  readonly last: Row | null;
  /** How many gaugings wait for the office. */
  readonly waiting: number;
  /** How many findings nobody has answered. */
  readonly open: number;
}

export function siteLines({ sites, rows }: DeskSurvey): SiteLine[] {
  const bySite = new Map<string, Row[]>();
  for (const row of rows) {
    if (row.site === null) continue;
    const there = bySite.get(row.site);
    if (there) there.push(row);
    else bySite.set(row.site, [row]);
  }
  return sites.map((site, i) => {
    const own = bySite.get(site.id) ?? [];
    return {
      ...site,
      order: i + 1,
      last: latest(own.filter(({ discharge_m3s }) => discharge_m3s !== null)),
      waiting: own.filter(({ state }) => waits(state)).length,
      open: own.reduce((sum, row) => sum + openOf(row), 0),
    };
  });
}

/** Return what a site of a survey is called. */
export function calledSite(survey: DeskSurvey, id: string): string {
  const site = survey.sites.find((one) => one.id === id);
  return site ? `${site.stream}, ${site.name}` : id;
}

function latest(rows: readonly Row[]): Row | null {
  const when = (row: Row) => `${row.day} ${row.started ?? ""}`;
  return rows.reduce<Row | null>(
    (last, row) => (last === null || when(row) > when(last) ? row : last),
    null,
  );
}
