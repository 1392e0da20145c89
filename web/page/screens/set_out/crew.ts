/** Who is there and does what. */

import { keysUnder, valueAt, type Folded } from "../../../journal/fold.ts";

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
    const value = valueAt(folded, `crew/${key}`) as { name?: string; role?: string } | null;
    if (typeof value?.name !== "string") return [];
    const roles = (value.role ?? "").split(",").map((role) => role.trim());
    return [{ key, name: value.name, roles: roles.filter((role) => role !== "") }];
  });
}

export function namesIn(folded: Folded): string[] {
  return crewOf(folded).map(({ name }) => name);
}
