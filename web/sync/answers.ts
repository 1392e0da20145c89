/** Reading what the server answered: what is not of the form that was agreed is SyncTrouble. */

import type { Entry } from "../journal/entry.ts";
import { entryFault, isObject } from "../journal/entry_check.ts";
import type {
  About,
  Field,
  FieldSite,
  FieldSurvey,
  OfficeVisit,
  Paired,
  Pulled,
  Pushed,
  Refused,
} from "./contract.ts";
import type { Json } from "./request.ts";
import { SyncTrouble } from "./trouble.ts";

/** Null where it is no server of an office that answers so, or one without an archive. */
export function aboutOf(found: Json): About | null {
  const { version, archive, lineage, sign_in: signIn } = found;
  if (typeof version !== "string" || typeof archive !== "string" || typeof signIn !== "boolean") {
    return null;
  }
  return typeof lineage === "string" ? { version, archive, lineage, signIn } : null;
}

export function pairedOf(found: Json): Paired {
  const { you } = found;
  if (!isObject(you)) throw unlike("you");
  return {
    token: textOf(found, "token"),
    you: { name: textOf(you, "name"), role: textOf(you, "role") },
    lineage: textOf(found, "lineage"),
    after: numberOf(found, "after"),
  };
}

export function pushedOf(found: Json): Pushed {
  return {
    added: textsOf(found, "added"),
    known: textsOf(found, "known"),
    differing: textsOf(found, "differing"),
    refused: listOf(found, "refused").map((one): Refused => {
      if (!isObject(one)) throw unlike("refused");
      const id = one["id"];
      return { id: typeof id === "string" ? id : undefined, said: textOf(one, "said") };
    }),
    lineage: textOf(found, "lineage"),
  };
}

export function pulledOf(found: Json): Pulled {
  return {
    entries: listOf(found, "entries").map(entryOf),
    after: numberOf(found, "after"),
    more: found["more"] === true,
    lineage: textOf(found, "lineage"),
  };
}

export function fieldOf(found: Json): Field {
  const visits: Record<string, OfficeVisit> = {};
  for (const site of objectsOf(found, "sites")) {
    const { last_visit: visit } = site;
    if (isObject(visit)) visits[textOf(site, "id")] = visitOf(visit);
  }
  return { surveys: objectsOf(found, "surveys").map(surveyOf), visits };
}

export function textsOf(found: Json, name: string): readonly string[] {
  const list = listOf(found, name);
  if (!list.every((one) => typeof one === "string")) throw unlike(name);
  return list as readonly string[];
}

function entryOf(found: unknown): Entry {
  const fault = entryFault(found);
  if (fault === null) return found as Entry;
  throw new SyncTrouble(
    "server",
    `The office's server sent an entry that this version of the app cannot read (${fault}): look for a newer version.`,
  );
}

function surveyOf(found: Json): FieldSurvey {
  const sites = found["sites"] === undefined ? [] : objectsOf(found, "sites");
  return { id: textOf(found, "id"), name: textOf(found, "name"), sites: sites.map(siteOf) };
}

function siteOf(found: Json): FieldSite {
  const { label, remarks, position } = found;
  return {
    id: textOf(found, "id"),
    stream: textOf(found, "stream"),
    name: textOf(found, "name"),
    ...(typeof label === "string" ? { label } : {}),
    ...(typeof remarks === "string" ? { remarks } : {}),
    ...(isObject(position)
      ? { position: { lon: numberOf(position, "lon"), lat: numberOf(position, "lat") } }
      : {}),
  };
}

function visitOf(found: Json): OfficeVisit {
  const { record } = found;
  if (!isObject(record)) throw unlike("last_visit");
  return { id: textOf(found, "id"), day: textOf(found, "day"), record };
}

export function textOf(found: Json, name: string): string {
  const text = found[name];
  if (typeof text !== "string") throw unlike(name);
  return text;
}

function numberOf(found: Json, name: string): number {
  const number = found[name];
  if (typeof number !== "number" || !Number.isFinite(number)) throw unlike(name);
  return number;
}

function listOf(found: Json, name: string): readonly unknown[] {
  const list = found[name];
  if (!Array.isArray(list)) throw unlike(name);
  return list;
}

function objectsOf(found: Json, name: string): readonly Json[] {
  const list = listOf(found, name);
  if (!list.every(isObject)) throw unlike(name);
  return list as readonly Json[];
}

function unlike(name: string): SyncTrouble {
  return new SyncTrouble(
    "server",
    `The office's server answered otherwise than this version of the app expects ("${name}"): look for a newer version.`,
  );
}
