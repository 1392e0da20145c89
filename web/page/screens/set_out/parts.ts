/** The parts of the set-out form: what was said in each so far, and whether that is enough. */

import { keysUnder, textAt, valueAt, type Folded } from "../../../journal/fold.ts";
import { crewOf } from "../../crew.ts";
import { edgeOf, type Side } from "../../edges.ts";
import { timeOf } from "../../moments.ts";
import { unitsCalled } from "../../units.ts";
import { lastDecision } from "../../wading.ts";

export type PartName =
  | "site"
  | "crew"
  | "wading"
  | "units"
  | "meter"
  | "stage"
  | "section"
  | "tape"
  | "left"
  | "right";

export interface Part {
  readonly name: PartName;
  readonly title: string;
  /** Under which its fields are said. */
  readonly prefixes: readonly string[];
  /** In a few words what was said; "" for nothing. */
  said(folded: Folded): string;
  /** Whether nothing that is asked for is missing. */
  enough(folded: Folded): boolean;
}

const PARTS: readonly Part[] = [
  {
    name: "site",
    title: "Site",
    prefixes: ["site/"],
    said: (folded) => listed([textAt(folded, "site/stream"), textAt(folded, "site/name")], " · "),
    enough: (folded) => Boolean(textAt(folded, "site/stream") && textAt(folded, "site/name")),
  },
  {
    name: "crew",
    title: "Who does what",
    prefixes: ["crew/"],
    said: (folded) =>
      listed(crewOf(folded).map(({ name, roles }) => (roles.length ? `${name} (${roles.join(", ")})` : name))),
    enough: (folded) => {
      const crew = crewOf(folded);
      return crew.length > 0 && crew.every(({ roles }) => roles.length > 0);
    },
  },
  {
    name: "wading",
    title: "Safe to wade?",
    prefixes: ["wading/"],
    said: (folded) => {
      const decision = lastDecision(folded);
      if (decision === null) return "";
      return `${decision.safe ? "Safe" : "STAY OUT"}, ${decision.by}, ${timeOf(decision.at)}`;
    },
    enough: (folded) => lastDecision(folded) !== null,
  },
  {
    name: "units",
    title: "Units and rules",
    prefixes: ["units/", "rule_set"],
    said: (folded) => {
      const units = unitsCalled(folded);
      const rod = units.depth === units.length ? undefined : `rod ${units.depth}`;
      return listed([units.length, rod, units.velocity, textAt(folded, "rule_set")], " · ");
    },
    enough: (folded) =>
      ["units/length", "units/velocity", "rule_set"].every((what) => textAt(folded, what)),
  },
  {
    name: "meter",
    title: "Meter",
    prefixes: ["meter/"],
    said: (folded) => listed([textAt(folded, "meter/kind"), textAt(folded, "meter/serial")]),
    enough: (folded) =>
      Boolean(textAt(folded, "meter/kind")) &&
      keysUnder(folded, "meter/checks").some((key) => valueAt(folded, `meter/checks/${key}`) !== null),
  },
  {
    name: "stage",
    title: "Stage",
    prefixes: ["stage/", "no_gauge"],
    said: (folded) => {
      const { length } = unitsCalled(folded);
      const stages = stagesOf(folded).map(
        ({ value, at }) => `${value} ${length}${at ? ` at ${timeOf(at)}` : ""}`,
      );
      return stages.length > 0 ? listed(stages) : valueAt(folded, "no_gauge") ? "no gauge" : "";
    },
    enough: (folded) => stagesOf(folded).length > 0 || valueAt(folded, "no_gauge") === true,
  },
  {
    name: "section",
    title: "Section",
    prefixes: ["whole_flow", "cleared", "moved"],
    said: (folded) => {
      const whole = valueAt(folded, "whole_flow");
      const cleared = textAt(folded, "cleared");
      return listed([
        whole === true ? "all the water passes" : whole === false ? "some passes elsewhere" : undefined,
        cleared ? `cleared at ${timeOf(cleared)}` : undefined,
      ]);
    },
    enough: (folded) => typeof valueAt(folded, "whole_flow") === "boolean",
  },
  {
    name: "tape",
    title: "Tape and start",
    prefixes: ["zero_bank", "start_bank", "started"],
    said: (folded) => {
      const [zero, start] = [textAt(folded, "zero_bank"), textAt(folded, "start_bank")];
      return listed([zero && `zero at the ${zero} bank`, start && `start from the ${start} bank`]);
    },
    enough: (folded) => Boolean(textAt(folded, "zero_bank") && textAt(folded, "start_bank")),
  },
  edgePart("left"),
  edgePart("right"),
];

/** Return the parts in the order in which the crew meets them: the start bank's edge first. */
export function partsOf(folded: Folded): readonly Part[] {
  if (textAt(folded, "start_bank") !== "right") return PARTS;
  const [left, right] = PARTS.slice(-2) as [Part, Part];
  return [...PARTS.slice(0, -2), right, left];
}

function edgePart(side: Side): Part {
  return {
    name: side,
    title: `${side === "left" ? "Left" : "Right"} edge of water`,
    prefixes: [`edge/${side}/`],
    said: (folded) => {
      const edge = edgeOf(folded, side);
      const units = unitsCalled(folded);
      const depth = edge?.depth && edge.bank !== "sloping" ? `depth ${edge.depth} ${units.depth}` : "";
      return listed([edge?.tape && `${edge.tape} ${units.length}`, edge?.bank, depth]);
    },
    enough: (folded) => {
      const edge = edgeOf(folded, side);
      return edge?.tape !== undefined && edge.bank !== undefined && edge.depth !== undefined;
    },
  };
}

function stagesOf(folded: Folded): { value: string; at?: string }[] {
  return keysUnder(folded, "stage").flatMap((key) => {
    const value = valueAt(folded, `stage/${key}`) as { value: string; at?: string } | null;
    return value === null ? [] : [value];
  });
}

function listed(words: readonly (string | undefined)[], between = ", "): string {
  return words.filter(Boolean).join(between);
}
