/** What is done about a finding: the fix is written, a vertical is added, or it is answered. */

import type { Value } from "../../journal/entry.ts";
import { keysUnder, valueAt, type Folded } from "../../journal/fold.ts";
import { same } from "../figures.ts";
import type { Saying } from "../gauging.svelte.ts";
import { thingOf } from "../said_words.ts";
import { channelsOf, whatOf } from "../section.ts";
import { isGrave, SEVERITIES } from "../severities.ts";
import type { FindingView, Severity } from "../view.ts";

/** Reasons that crews give; any other is typed. Our own choice, no source. */
export const USUAL_REASONS: readonly string[] = [
  "Read again, and it is the same.",
  "The bed is like that here.",
  "The water is like that here.",
  "The leader decided.",
];

export interface Sorted {
  /** Those that ask for something and have no answer; what calls the crew out stands first. */
  readonly open: readonly FindingView[];
  readonly answered: readonly FindingView[];
  /** Those that are to be known and ask for nothing. */
  readonly notes: readonly FindingView[];
}

/** A slip stands before what goes with it, as asking for the figure may settle all of it. */
export function sorted(findings: readonly FindingView[]): Sorted {
  const hanging = Math.min(...findings.filter(({ hangs_on }) => hangs_on !== null).map(rankOf));
  const rankWithSlips = (finding: FindingView) => {
    const slip = finding.instead !== null && finding.hangs_on === null;
    return slip ? Math.min(rankOf(finding), hanging - 0.5) : rankOf(finding);
  };
  const grave = [...findings].sort(
    (a, b) => Number(b.comes_out) - Number(a.comes_out) || rankWithSlips(a) - rankWithSlips(b),
  );
  return {
    open: grave.filter(({ open }) => open),
    answered: grave.filter(({ answer }) => answer !== null),
    notes: grave.filter(({ open, answer }) => !open && answer === null),
  };
}

/** The place of a finding by how grave it is; a figure that may be a slip stands behind the stops. */
export function rankOf({ severity, instead }: FindingView): number {
  const grave = SEVERITIES.indexOf(severity);
  return instead === null ? grave : Math.min(grave, 0.5);
}

/** Return how many are open, by severity: "1 stop, 2 fix now"; "" where none is. */
export function openWords(findings: readonly FindingView[]): string {
  return SEVERITIES.flatMap((severity) => {
    const count = findings.filter((finding) => finding.open && finding.severity === severity).length;
    if (count === 0) return [];
    return `${count} ${severity === "explain" ? "to explain" : severity}`;
  }).join(", ");
}

/** Return what is wrong with an answer, in one sentence; null where nothing is. */
export function answerFault(severity: Severity, reason: string, by: string): string | null {
  if (reason.trim() === "") return "Say first why it is right: press a reason or type one.";
  if (isGrave(severity) && by.trim() === "") {
    return `Say who answers: a finding “${severity}” is accepted by a person with a name.`;
  }
  return null;
}

/** Return the entry that answers a finding; it takes the place of an earlier answer to the same. */
export function answered(
  folded: Folded,
  finding: FindingView,
  { reason, by }: { readonly reason: string; readonly by: string },
  newKey: string,
): Saying {
  const { check, severity } = finding;
  return {
    what: answerWhat(folded, finding) ?? `answers/${newKey}`,
    value: { check, finding: finding.found, severity, reason: reason.trim() },
    ...(by.trim() === "" ? {} : { by: by.trim() }),
  };
}

/** Return where the answer to a finding was said, null where none stands. */
export function answerWhat(folded: Folded, finding: FindingView): string | null {
  const key = keysUnder(folded, "answers").findLast((key) => {
    const answer = valueAt(folded, `answers/${key}`) as { readonly [name: string]: Value } | null;
    return (
      answer?.["check"] === finding.check &&
      answer["severity"] === finding.severity &&
      answer["finding"] === finding.found
    );
  });
  return key === undefined ? null : `answers/${key}`;
}

/**
 * Return the entry that writes the figure that was probably meant; null where none is, or where
 * another figure stands by now than the one that was found doubtful.
 */
export function fixed(folded: Folded, { instead, check }: FindingView): Saying | null {
  if (instead === null) return null;
  const there = valueAt(folded, instead.what);
  const reason = `${check}: taken as proposed`;
  if (typeof there !== "object" || there === null || Array.isArray(there)) {
    return there === instead.was ? { what: instead.what, value: instead.value, reason } : null;
  }
  const said = there as { readonly [member: string]: Value };
  if (String(said["value"] ?? said["counts"] ?? "") !== instead.was) return null;
  return { what: instead.what, value: { ...said, value: instead.value }, reason };
}

/** Return what the fix writes, in words: depth at tape 14.5. */
export function fixThing(folded: Folded, { instead }: FindingView): string {
  if (instead === null) return "";
  return thingOf(folded, instead.what, valueAt(folded, instead.what) ?? null);
}

export interface Spot {
  readonly channel: string;
  readonly tape: string;
}

/** Return what begins a vertical between others; nothing where one stands there already. */
export function inserted(folded: Folded, { channel, tape }: Spot, newKey: string): Saying[] {
  const there = channelsOf(folded).find(({ key }) => key === channel)?.verticals ?? [];
  if (there.some((vertical) => same(vertical.tape, tape))) return [];
  return [
    { what: whatOf(channel, newKey, "tape"), value: tape },
    { what: whatOf(channel, newKey, "inserted"), value: true },
  ];
}
