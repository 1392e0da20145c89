/** The reasons of what a note shows, by the names that the note has for it. */

const MARKS: Readonly<Record<string, string>> = {
  discharge: "discharge",
  "quality:": "quality; standard uncertainty",
  width: "width; panel width",
  area: "area",
  "mean depth": "mean depth",
  "mean velocity": "mean velocity; velocity; points",
  verticals: "verticals",
  "largest share": "share",
  position: "position",
  "all water passes": "whole flow",
  "last cleared": "cleared",
  started: "began and ended",
  ended: "began and ended",
  rotor: "rotor",
  rating: "rating",
  calibrated: "calibration",
  "calibration due": "calibration",
  slowest: "meter range",
  shallowest: "meter range",
  proofs: "spin; zero",
  stage: "stage; stage change",
  tape: "tape",
  depth: "depth",
  at: "points",
  read: "velocity",
  turns: "counts",
  time: "exposure",
  angle: "angle",
  "panel to": "panel width",
  share: "share",
  section: "depth; velocity; share",
  uncertainty: "interval; standard uncertainty; published uncertainty",
  "findings of the checks": "severity",
  "the total that was filed": "discharge",
  "what was assumed": "edge; wall factor; points",
  "how it was worked out": "discharge; points; rule set",
  corrections: "tape; depth; velocity",
  "wading can kill": "wading limits; cold water; alone",
};

/** Return the keys of the reasons for a fact, a column or a part of a note; none for plain words. */
export function noteMark(name: string): string | undefined {
  return MARKS[name.toLowerCase()];
}
