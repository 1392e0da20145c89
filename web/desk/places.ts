/** Where one can be at the desk, and the addresses that lead there. */

export const SURVEY_PARTS = ["sites", "gaugings", "map", "checks"] as const;
export type SurveyPart = (typeof SURVEY_PARTS)[number];

export type DeskPlace =
  | { readonly at: "start" }
  | {
      readonly at: "survey";
      readonly id: string;
      readonly part: SurveyPart;
      /** Which of the things there are meant; "" for all, with the survey's head before them. */
      readonly which: string;
    }
  | { readonly at: "site"; readonly id: string }
  | { readonly at: "gauging"; readonly id: string }
  | { readonly at: "sheets" }
  | { readonly at: "paper"; readonly id: string | null }
  | { readonly at: "people" }
  | { readonly at: "nowhere" };

/** Return the place of a path below #/desk. */
export function deskPlace([at, id, part, which = ""]: readonly string[]): DeskPlace {
  if (at === undefined) return { at: "start" };
  if (at === "surveys" && id) {
    return { at: "survey", id, part: SURVEY_PARTS.find((one) => one === part) ?? "sites", which };
  }
  if (at === "sites" && id) return { at: "site", id };
  if (at === "gaugings" && id) return { at: "gauging", id };
  if (at === "paper") return { at, id: id ?? null };
  if (at === "sheets" || at === "people") return { at };
  return { at: "nowhere" };
}

/** which: as in a place. */
export function surveyHref(id: string, part: SurveyPart = "sites", which = ""): string {
  const behind = which === "" ? (part === "sites" ? [] : [part]) : [part, which];
  return ["#/desk/surveys", encodeURIComponent(id), ...behind].join("/");
}

export function siteHref(id: string): string {
  return `#/desk/sites/${encodeURIComponent(id)}`;
}

export function gaugingHref(id: string): string {
  return `#/desk/gaugings/${encodeURIComponent(id)}`;
}

export function paperHref(id: string): string {
  return `#/desk/paper/${encodeURIComponent(id)}`;
}
