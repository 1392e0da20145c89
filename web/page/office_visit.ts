/** The last visit to a site as the office handed it over, for a device that has none. */

import { instant, type Entry } from "../journal/entry.ts";
import { fold } from "../journal/fold.ts";
import type { Field, OfficeVisit } from "../sync/contract.ts";
import type { Engine } from "./engine_contract.ts";
import { siteNamed, type SiteSaid } from "./field_sites.ts";
import type { LastVisit } from "./last_visit.ts";

/**
 * Return the office's last visit to a site, null where it knows none, or none before the gauging
 * that is open. The engine makes entries of its record: it rejects where that is off.
 */
export async function officeVisitOf(
  field: Field | null,
  said: SiteSaid,
  open: { readonly id: string; readonly started: string },
  engine: Pick<Engine, "ask">,
): Promise<LastVisit | null> {
  const site = siteNamed(field, said);
  const visit = site === null ? undefined : field?.visits[site.id];
  if (site === null || visit === undefined || visit.id === open.id) return null;
  const at = momentOf(visit);
  if (!(Date.parse(at) <= Date.parse(open.started))) return null;
  const asked = { ask: "entries", record: visit.record, gauging: visit.id, at: instant(new Date(at)) };
  const reply = await engine.ask<{ readonly entries: readonly Entry[] }>(asked);
  if (!reply.ok) throw new Error(reply.faults.map(({ message }) => message).join("; "));
  const { entries } = reply;
  const summary = { id: visit.id, stream: site.stream, site: site.name };
  return { summary, from: "office", entries, folded: fold(entries), at };
}

/** Return the later of two visits; of the same gauging that of this device, which may hold more. */
export function laterOf(device: LastVisit | null, office: LastVisit | null): LastVisit | null {
  if (device === null || office === null) return device ?? office;
  if (device.summary.id === office.summary.id) return device;
  return Date.parse(office.at) > Date.parse(device.at) ? office : device;
}

/** Return when it started; where the record does not say, noon, so that every zone has its day. */
function momentOf({ day, record }: OfficeVisit): string {
  const { started } = record;
  return typeof started === "string" ? started : `${day}T12:00:00`;
}
