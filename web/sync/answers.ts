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
  You,
} from "./contract.ts";
import type { Json } from "./request.ts";
import { SyncTrouble } from "./trouble.ts";

/** Null where it is no server of an office that answers so. */
export function aboutOf(found: Json): About | null {
  const { version, archive, sign_in: signIn, you } = found;
  if (typeof version !== "string" || typeof archive !== "string" || typeof signIn !== "boolean") {
    return null;
  }
  return { version, archive, signIn, you: isObject(you) ? youOf(you) : null };
}

export function pairedOf(found: Json): Paired {
  const { you } = found;
  if (!isObject(you)) throw unlike("you");
  return { token: textOf(found, "token"), you: youOf(you), after: numberOf(found, "after") };
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
  };
}

export function pulledOf(found: Json): Pulled {
  return {
    entries: listOf(found, "entries").map(entryOf),
    after: numberOf(found, "after"),
    more: found["more"] === true,
  };
}

export function fieldOf(found: Json): Field {
  return {
    surveys: listOf(found, "surveys").filter(isObject).map(surveyOf),
    sites: listOf(found, "sites").filter(isObject).map(siteOf),
  };
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

function youOf(found: Json): You {
  return { name: textOf(found, "name"), role: textOf(found, "role") };
}

function surveyOf(found: Json): FieldSurvey {
  const rules = found["rule_set"];
  return {
    id: textOf(found, "id"),
    name: textOf(found, "name"),
    ...(typeof rules === "string" ? { rule_set: rules } : {}),
    sites: (Array.isArray(found["sites"]) ? found["sites"] : [])
      .filter(isObject)
      .map((site) => ({ id: textOf(site, "id") })),
  };
}

function siteOf(found: Json): FieldSite {
  const { label, remarks, position, last_visit: visit } = found;
  return {
    id: textOf(found, "id"),
    stream: textOf(found, "stream"),
    name: textOf(found, "name"),
    ...(typeof label === "string" ? { label } : {}),
    ...(typeof remarks === "string" ? { remarks } : {}),
    ...(isObject(position)
      ? { position: { lon: numberOf(position, "lon"), lat: numberOf(position, "lat") } }
      : {}),
    last_visit: isObject(visit) ? visitOf(visit) : null,
  };
}

function visitOf(found: Json): OfficeVisit {
  const { day, discharge_m3s: discharge, record } = found;
  if (!isObject(record)) throw unlike("last_visit");
  return {
    id: textOf(found, "id"),
    day: typeof day === "string" ? day : null,
    discharge_m3s: typeof discharge === "number" ? discharge : null,
    record,
  };
}

function textOf(found: Json, name: string): string {
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

function unlike(name: string): SyncTrouble {
  return new SyncTrouble(
    "server",
    `The office's server answered otherwise than this version of the app expects ("${name}"): look for a newer version.`,
  );
}
