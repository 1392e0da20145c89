/** The visits of a site as the pictures of its page want them. */

import type { DeskSite } from "./asking/answers.ts";
import type { Overlaid } from "./parts/section_overlay.ts";
import type { Moment } from "./parts/time_line.ts";
import { clock, discharge, dischargeUnit, figures, inLength, toMetres, type System } from "./shown.ts";

export interface Series {
  readonly name: string;
  readonly moments: readonly Moment[];
  readonly fromZero: boolean;
}

type Visit = DeskSite["visits"][number];

/** Return what a visit is called: its day, with the time where there are several on it. */
export function calledVisit(visit: Visit, visits: readonly Visit[]): string {
  const several = visits.filter(({ day }) => day === visit.day).length > 1;
  const time = clock(visit.started);
  if (visit.day === "") return `no day, ${visit.id.slice(0, 6)}`;
  return several && time ? `${visit.day} ${time}` : visit.day;
}

/** Return the sections to be laid over one another, the first visit first. */
export function overlaid({ visits, sections }: DeskSite): Overlaid[] {
  return visits.toReversed().flatMap((visit): Overlaid[] => {
    const section = sections.find(({ gauging }) => gauging === visit.id);
    if (section === undefined) return [];
    return [
      {
        gauging: visit.id,
        name: calledVisit(visit, visits),
        zero_bank: section.zero_bank,
        channels: section.channels,
        stage_m: visit.stage === null ? null : toMetres(visit.stage, visit.stage_unit ?? ""),
      },
    ];
  });
}

/** Return what changed through the visits; a quantity that no visit tells is left out. */
export function series({ visits }: DeskSite, system: System): Series[] {
  const told = (name: string, fromZero: boolean, of: (visit: Visit) => number | null, text: (value: number) => string) => ({
    name,
    fromZero,
    moments: visits.flatMap((visit): Moment[] => {
      const value = of(visit);
      if (value === null || visit.day === "") return [];
      return [{ id: visit.id, at: visit.started ?? visit.day, value, text: text(value) }];
    }),
  });
  const lengths = (of: (visit: Visit) => number | null) => (visit: Visit) => {
    const metres = of(visit);
    return metres === null ? null : inLength(metres, system);
  };
  const three = (value: number) => figures(value);
  const per = inLength(1, system) ** 3;
  return [
    told(`Discharge, ${dischargeUnit(system)}`, true, (v) => (v.discharge_m3s === null ? null : v.discharge_m3s * per), (q) => discharge(q / per, system)),
    told(`Width, ${system}`, true, lengths((v) => v.width_m), three),
    told(`Mean depth, ${system}`, true, lengths((v) => v.mean_depth_m), three),
    told(`Stage, ${system}`, false, lengths((v) => (v.stage === null ? null : toMetres(v.stage, v.stage_unit ?? ""))), (value) =>
      String(Number(value.toFixed(3))),
    ),
  ].filter(({ moments }) => moments.length > 0);
}
