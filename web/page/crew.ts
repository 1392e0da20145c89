/** Who is there and does what. */

import type { Value } from "../journal/entry.ts";
import { keysUnder, valueAt, type Folded } from "../journal/fold.ts";

export interface Member {
  readonly key: string;
  readonly name: string;
  readonly roles: readonly string[];
}

export const ROLES = [
  { role: "rod", words: "Rod and meter", needed: true },
  { role: "recorder", words: "Recorder", needed: true },
  { role: "leader", words: "Leader", needed: true },
  { role: "spotter", words: "Spotter", needed: true },
] as const;

export function crewOf(folded: Folded): Member[] {
  return keysUnder(folded, "crew").flatMap((key) => {
    const value = valueAt(folded, `crew/${key}`) as { name?: unknown; role?: unknown } | null;
    if (typeof value?.name !== "string") return [];
    const said = typeof value.role === "string" ? value.role : "";
    const roles = said.split(",").map((role) => role.trim());
    return [{ key, name: value.name, roles: roles.filter((role) => role !== "") }];
  });
}

export function namesIn(folded: Folded): string[] {
  return crewOf(folded).map(({ name }) => name);
}

/** Return the names of the crew, who leads it before the others. */
export function leadersFirst(folded: Folded): string[] {
  const crew = crewOf(folded);
  const leads = ({ roles }: Member) => roles.includes("leader");
  return [...crew.filter(leads), ...crew.filter((one) => !leads(one))].map(({ name }) => name);
}

/** Return what an entry says of a member of the crew, to be read out. */
export function memberWords(value: Value): string {
  const member = value as { name?: string; role?: string } | null;
  if (member?.name === undefined) return "not of the crew";
  return member.role ? `${member.name} (${member.role})` : member.name;
}
