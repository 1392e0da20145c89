/** Why a screen shows a figure or goes by a rule: `data-why` names the reasons by their keys. */

export type Confidence = "read" | "memory high" | "memory medium" | "memory low" | "practice" | "computed";

/** A value of the rule set in force, with its own source. */
export interface ThresholdTold {
  readonly name: string;
  readonly meaning: string;
  readonly value: string;
  readonly confidence: Confidence;
  readonly source: string;
  readonly rule_set: string;
}

export interface Reason {
  readonly name: string;
  /** What it is for, and why it is as it is. */
  readonly words: string;
  readonly source: string;
  readonly thresholds: readonly ThresholdTold[];
}

export interface WhyReply {
  /** The title of the one in force. */
  readonly rule_set: string;
  readonly remarks: readonly string[];
  readonly reasons: Readonly<Record<string, Reason>>;
}

/** How far the source of a threshold can be trusted, as people say it; docs/rules.md. */
export const CONFIDENCE_WORDS: Readonly<Record<Confidence, string>> = {
  read: "read",
  "memory high": "from memory, fairly sure",
  "memory medium": "from memory",
  "memory low": "from memory, not sure",
  practice: "common practice",
  computed: "worked out by us",
};

/** Return the keys that a mark names, one or several parted by semicolons. */
export function keysOf(mark: string): string[] {
  return mark.split(";").map((key) => key.trim()).filter((key) => key !== "");
}

/** Return the keys of all that is marked within a part of the page, each once, as one meets them. */
export function keysIn(part: ParentNode): string[] {
  const marked = [...part.querySelectorAll<HTMLElement>("[data-why]")];
  const shown = marked.filter((one) => one.closest("[hidden]") === null);
  return [...new Set(shown.flatMap(({ dataset }) => keysOf(dataset["why"] ?? "")))];
}
