/** The sites of the office's surveys, to be chosen from and to be found again. */

import type { Field, FieldSite } from "../sync/contract.ts";
import type { Saying } from "./gauging.svelte.ts";
import { placeKey } from "./last_visit.ts";

export interface SurveySite {
  readonly site: FieldSite;
  /** The names of the surveys that it belongs to. */
  readonly surveys: readonly string[];
}

/** What a gauging says of its site. */
export interface SiteSaid {
  readonly id: string | undefined;
  readonly stream: string | undefined;
  readonly site: string | undefined;
}

/** Return every site of every survey once, in the order of the surveys. */
export function surveySites(field: Field | null): SurveySite[] {
  const sites = new Map<string, { site: FieldSite; surveys: string[] }>();
  for (const { name, sites: own } of field?.surveys ?? []) {
    for (const site of own) {
      const there = sites.get(site.id);
      if (there) there.surveys.push(name);
      else sites.set(site.id, { site, surveys: [name] });
    }
  }
  return [...sites.values()];
}

/** Return the sites in whose names and label every word of a text is found. */
export function sitesFound(sites: readonly SurveySite[], text: string): readonly SurveySite[] {
  const words = plain(text).split(" ").filter(Boolean);
  return sites.filter(({ site }) => {
    const names = plain([site.stream, site.name, site.label ?? "", site.id].join(" "));
    return words.every((word) => names.includes(word));
  });
}

/** Return what is said of a gauging at a site of a survey. */
export function siteSayings({ id, stream, name, label }: FieldSite): Saying[] {
  return [
    { what: "site/id", value: id },
    { what: "site/stream", value: stream },
    { what: "site/name", value: name },
    ...(label === undefined ? [] : [{ what: "site/label", value: label }]),
  ];
}

/**
 * Return the site that a gauging names, by its id or else by the names of stream and place; null
 * where there is none, or several of these names.
 */
export function siteNamed(field: Field | null, said: SiteSaid): FieldSite | null {
  const sites = surveySites(field).map(({ site }) => site);
  if (said.id !== undefined) return sites.find(({ id }) => id === said.id) ?? null;
  if (!said.stream?.trim() || !said.site?.trim()) return null;
  const wanted = placeKey(said);
  const found = sites.filter(({ stream, name }) => placeKey({ stream, site: name }) === wanted);
  return found.length === 1 ? found[0]! : null;
}

function plain(text: string): string {
  const letters = text.normalize("NFKD").replace(/\p{M}/gu, "").toLocaleLowerCase("en");
  return letters.replace(/[^\p{L}\p{N}]+/gu, " ").trim();
}
