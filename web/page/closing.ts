/** Closing a gauging: what it came to, who signs, and why anything is left open. */

import type { Value } from "../journal/entry.ts";
import { textAt, valueAt, type Folded } from "../journal/fold.ts";
import { answered } from "./checking/findings.ts";
import type { Saying } from "./gauging.svelte.ts";
import { isGrave } from "./severities.ts";
import type { FindingView, View } from "./view.ts";
import { lastDecision } from "./wading.ts";

/** No flow and no measurement are results as well, each with its reason. */
export type Outcome = "measured" | "no flow" | "not measured";

export interface Closing {
  readonly outcome: Outcome | undefined;
  readonly by: string;
  /** Why there is no flow, or why it could not be measured. */
  readonly why: string;
  /** Why it is closed with grave findings open. */
  readonly leftOpen: string;
  /** Whether a person said to close although figures and findings are not known. */
  readonly unseen: boolean;
}

export interface Standing {
  readonly folded: Folded;
  readonly view: View | null;
  /** Whether the view has seen every entry. */
  readonly fresh: boolean;
  /** Whether figures are on their way, so that waiting helps. */
  readonly computing: boolean;
}

/** Whether it would be closed as measured though what the checks find is not known. */
export function figuresAwaited({ outcome, unseen }: Closing, { fresh }: Standing): boolean {
  return outcome === "measured" && !fresh && !unseen;
}

export interface Closed {
  readonly by: string;
  readonly discharge: string | undefined;
  readonly at: string;
  readonly reason: string | undefined;
}

/** Return how a gauging was closed, null where it is open. */
export function closedOf(folded: Folded): Closed | null {
  const said = folded.get("closed");
  const value = said?.value as { by?: unknown; discharge?: unknown } | null | undefined;
  if (!said || !value) return null;
  return {
    by: String(value.by ?? ""),
    discharge: typeof value.discharge === "string" ? value.discharge : undefined,
    at: said.entry.at,
    reason: said.entry.reason,
  };
}

/** Return the open findings that nobody may leave without a reason. */
export function graveOpen(view: View | null): FindingView[] {
  return (view?.findings ?? []).filter(({ open, severity }) => open && isGrave(severity));
}

/** Return what keeps the gauging from being closed, in one sentence; null where nothing does. */
export function closingFault(closing: Closing, standing: Standing): string | null {
  const { folded, view, fresh, computing } = standing;
  const { outcome, by, why, leftOpen } = closing;
  if (outcome === undefined) return "Say first what came out: measured, no flow, or not measured.";
  if (outcome !== "measured" && why.trim() === "") {
    return outcome === "no flow"
      ? "Say what was seen, so that a reader can trust that nothing flowed."
      : "Say why it could not be measured.";
  }
  if (textAt(folded, "ended") === undefined) return "Say first when the gauging ended.";
  if (figuresAwaited(closing, standing)) {
    return computing
      ? "The figures and findings are still being worked out: wait for them, or close without them."
      : "Nothing is computed, so that nobody knows the discharge and what the checks would find.";
  }
  if (outcome === "measured" && fresh && view !== null && view.result === null) {
    return `${view.no_result ?? "There is no discharge."} Complete the readings, or say that it could not be measured.`;
  }
  if (graveOpen(view).length > 0 && leftOpen.trim() === "") {
    return "Say why it is closed with findings open that ask for a stop or a fix.";
  }
  if (by.trim() === "") return "Say who signs: a gauging is closed by a person with a name.";
  return null;
}

/** Return the entries that close a gauging; only where `closingFault` finds nothing. */
export function closingSayings(closing: Closing, standing: Standing, newKey: () => string): Saying[] {
  const { folded, view } = standing;
  const by = closing.by.trim();
  const why = closing.outcome === "measured" ? "" : closing.why.trim();
  const leftOpen = closing.leftOpen.trim();
  const grave = leftOpen === "" ? [] : graveOpen(view);
  const discharge = shown(closing, standing);
  const reason = [why, grave.length > 0 ? leftOpen : ""].filter(Boolean).join("; ");
  const value: Value = { by, ...(discharge === undefined ? {} : { discharge }) };
  return [
    ...grave.map((finding) => answered(folded, finding, { reason: `Left open: ${leftOpen}`, by }, newKey())),
    ...(why === "" ? [] : [{ what: "remarks", value: remarks(folded, closing.outcome!, why), by }]),
    { what: "closed", value, by, ...(reason === "" ? {} : { reason }) },
  ];
}

/** Return what closing would show as the discharge; undefined where none can be told. */
export function shown({ outcome }: Pick<Closing, "outcome">, { view, fresh }: Standing): string | undefined {
  if (outcome === "no flow") return "no flow";
  if (outcome !== "measured" || !fresh || !view?.result) return undefined;
  return `${view.result.discharge} ${view.result.discharge_unit}`;
}

/** Return the outcome that the readings speak for, or else the decision to stay out of the water. */
export function likelyOutcome(folded: Folded): Outcome | undefined {
  for (const { what } of folded.values()) {
    if (/\/readings\//.test(what) && (valueAt(folded, what) ?? null) !== null) return "measured";
  }
  return lastDecision(folded)?.safe === false ? "not measured" : undefined;
}

/** Return the reason that was given with the decision to stay out; "" where none was, or it is no more. */
export function whyStayedOut(folded: Folded): string {
  const decision = lastDecision(folded);
  return decision?.safe === false ? (decision.why ?? "") : "";
}

/** Return what leads to closing for who stays out. */
export function closeOutWords(folded: Folded): string {
  return whyStayedOut(folded) === "" ? "Say why it could not be measured, and close" : "Close: it could not be measured";
}

/** What a reader of the record has to know stands in the remarks, behind what is there already. */
function remarks(folded: Folded, outcome: Outcome, why: string): string {
  const sentence = `${outcome === "no flow" ? "No flow" : "Could not be measured"}: ${why}`;
  const there = textAt(folded, "remarks")?.trim() ?? "";
  return there.includes(sentence) ? there : [there, sentence].filter(Boolean).join("\n");
}
