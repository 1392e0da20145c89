/** What is still missing before the crew leaves, each with where on the screen it is done. */

import { keysUnder, textAt, valueAt, type Folded } from "../../journal/fold.ts";
import { crewOf } from "../crew.ts";
import { photosOf, PURPOSES, type Purpose } from "../photos_said.ts";
import { channelsOf, edgeOf, type ChannelSaid, type VerticalSaid } from "../section.ts";
import type { View } from "../view.ts";
import { likelyOutcome } from "../closing.ts";
import { isGrave } from "../severities.ts";
import { lastDecision } from "../wading.ts";
import { openWords } from "./findings.ts";
import { meterNamed, proofsOf } from "./meter_checks.ts";
import { stagesOf } from "./stages.ts";

/** A part of the screen Set out. */
export type SetOutPart = "wading" | "crew" | "meter_named" | "section" | "tape";

/** A part of the screen Check, the screen Read for edges, or a part of the screen Set out. */
export type Where =
  | SetOutPart
  | "conflicts"
  | "faults"
  | "questions"
  | "unread"
  | "edges"
  | "stage"
  | "meter"
  | "photos"
  | "ended"
  | "quality";

export interface Missing {
  readonly where: Where;
  readonly words: string;
  /** Whether the gauging is worth little without it. */
  readonly grave: boolean;
}

export interface Looked {
  readonly folded: Folded;
  /** null while nothing was computed. */
  readonly view: View | null;
}

/** Return what is missing, in the order in which it is best done: in the water, then on the bank. */
export function missingOf({ folded, view }: Looked): Missing[] {
  return likelyOutcome(folded) === "not measured" ? afterStayingOut(folded, view) : afterReading(folded, view);
}

/** Who stayed out has no figure to judge: what a later reader asks for can be said from the bank. */
function afterStayingOut(folded: Folded, view: View | null): Missing[] {
  const grave = view === null ? null : { ...view, findings: view.findings.filter(({ severity }) => isGrave(severity)) };
  return [
    ...crew(folded),
    ...conflicts(folded),
    ...faults(view),
    ...(grave === null ? [] : questions(grave)),
    ...(stagesOf(folded).length === 0 ? stage(folded) : []),
    ...ended(folded),
  ];
}

function afterReading(folded: Folded, view: View | null): Missing[] {
  const channels = channelsOf(folded);
  return [
    ...setOut(folded),
    ...conflicts(folded),
    ...faults(view),
    ...questions(view),
    ...unread(channels),
    ...edges(channels),
    ...stage(folded),
    ...meter(folded),
    ...photos(folded),
    ...ended(folded),
    ...(textAt(folded, "quality") === undefined
      ? [{ where: "quality", words: "A word for the quality", grave: false } as const]
      : []),
  ];
}

/** Return verticals that were begun and of which nothing was read. */
export function begunOnly(channels: readonly ChannelSaid[]): VerticalSaid[] {
  return channels.flatMap(({ verticals }) =>
    verticals.filter(
      ({ edge, depth, dry, readings }) =>
        edge === null && depth === null && !dry && readings.length === 0,
    ),
  );
}

/** Return the purposes for which there is no photo though one is usual. */
export function photosMissing(folded: Folded): Purpose[] {
  const taken = new Set(photosOf(folded).map(({ purpose }) => purpose));
  const noGauge = valueAt(folded, "no_gauge") === true;
  return PURPOSES.filter(
    ({ purpose, usual }) => usual && !taken.has(purpose) && !(purpose === "staff gauge" && noGauge),
  ).map(({ purpose }) => purpose);
}

/** What a reader asks first, and what nobody remembers later. */
function setOut(folded: Folded): Missing[] {
  const missing: Missing[] = [];
  const lacks = (where: SetOutPart, words: string) => missing.push({ where, words, grave: false });
  if (lastDecision(folded) === null) lacks("wading", "Whether it is safe to wade, and who decided");
  missing.push(...crew(folded));
  const meter = keysUnder(folded, "meter").filter((key) => key !== "checks");
  if (meter.every((key) => (valueAt(folded, `meter/${key}`) ?? null) === null)) {
    lacks("meter_named", "Which meter");
  }
  if ((valueAt(folded, "whole_flow") ?? null) === null) {
    lacks("section", "Whether all the water passes the section");
  }
  if (textAt(folded, "zero_bank") === undefined || textAt(folded, "start_bank") === undefined) {
    lacks("tape", "From which bank the tape runs and the crew started");
  }
  return missing;
}

function crew(folded: Folded): Missing[] {
  return crewOf(folded).length > 0 ? [] : [{ where: "crew", words: "Who was there", grave: false }];
}

function ended(folded: Folded): Missing[] {
  if (textAt(folded, "ended") !== undefined) return [];
  return [{ where: "ended", words: "When the gauging ended", grave: true }];
}

function conflicts(folded: Folded): Missing[] {
  const count = [...folded.values()].filter(({ conflict }) => conflict).length;
  if (count === 0) return [];
  const words = count === 1 ? "Two devices differ on one thing" : `Two devices differ on ${count} things`;
  return [{ where: "conflicts", words, grave: true }];
}

function faults(view: View | null): Missing[] {
  const count = view?.faults.length ?? 0;
  if (count === 0) return [];
  const words = count === 1 ? "One thing said cannot be used" : `${count} things said cannot be used`;
  return [{ where: "faults", words, grave: true }];
}

function questions(view: View | null): Missing[] {
  if (view === null) {
    const words = "Whether there are questions about the readings cannot be told yet";
    return [{ where: "questions", words, grave: false }];
  }
  const open = openWords(view.findings);
  if (open === "") return [];
  const grave = /stop|fix now/.test(open);
  return [{ where: "questions", words: `Open findings: ${open}`, grave }];
}

function unread(channels: readonly ChannelSaid[]): Missing[] {
  const tapes = begunOnly(channels).map(({ tape }) => tape);
  if (tapes.length === 0) return [];
  return [{ where: "unread", words: `Begun and not read: ${tapes.join(", ")}`, grave: true }];
}

function edges(channels: readonly ChannelSaid[]): Missing[] {
  return channels.flatMap((channel): Missing[] => {
    const absent = (["left", "right"] as const).filter((side) => !edgeOf(channel, side));
    if (absent.length === 0) return [];
    const which = absent.length === 2 ? "Both edges" : `The ${absent[0]!} edge`;
    const where = channels.length > 1 ? `, channel ${channel.name ?? channel.key}` : "";
    return [{ where: "edges", words: `${which} of water${where}`, grave: true }];
  });
}

function stage(folded: Folded): Missing[] {
  if (valueAt(folded, "no_gauge") === true) return [];
  const count = stagesOf(folded).length;
  if (count > 1) return [];
  return [
    { where: "stage", words: count === 0 ? "The stage" : "A second stage, now", grave: false },
  ];
}

function meter(folded: Folded): Missing[] {
  if (!meterNamed(folded) || proofsOf(folded).some(({ when }) => when === "after")) return [];
  return [{ where: "meter", words: "A proof of the meter after the readings", grave: false }];
}

function photos(folded: Folded): Missing[] {
  const purposes = photosMissing(folded);
  if (purposes.length === 0) return [];
  return [{ where: "photos", words: `Photos: ${purposes.join(", ")}`, grave: false }];
}
