/** What the recorder calls out to the person with the rod, and what the big key says it will do. */

import type { RodPoint } from "../view.ts";
import type { Present } from "./next.ts";

export type Quantity = "tape" | "depth" | "velocity" | "counts" | "seconds" | "angle" | "factor";

export interface Units {
  readonly tape: string;
  readonly depth: string;
  readonly velocity: string;
}

export interface Calling {
  /** What to do, such as "Go to". */
  readonly label: string;
  /** The figure to call out; "" where there is none. */
  readonly figure: string;
  readonly unit: string;
  /** Where and what more, in a few words; "" for nothing. */
  readonly more: string;
  /** To be spoken. */
  readonly aloud: string;
}

/** Return what is to be called out now; `rod` is what the engine says of the point that is due. */
export function callingOf(present: Present, rod: RodPoint | null, units: Units): Calling {
  const { asked, tape, vertical } = present;
  if (asked.ask === "nothing") {
    return { label: "All is read", figure: "", unit: "", more: "", aloud: "All is read." };
  }
  if (asked.ask === "tape") {
    const edge = asked.edge === null ? null : `${asked.edge} edge of water`;
    const label = edge ?? (present.inserted ? "Insert a vertical" : "Next vertical");
    const bank = present.bank === "steep" || present.bank === "undercut" ? `${present.bank}; ` : "";
    return { label: capital(label), figure: "", unit: "", more: `${bank}read the tape`, aloud: `${capital(label)}.` };
  }
  if (asked.ask === "depth") {
    const edge = present.edge === null ? "" : `${present.edge} edge, ${present.bank}`;
    const inserted = present.inserted ? "inserted" : "";
    return {
      label: present.edge === null && vertical === null ? "Go to" : "At",
      figure: tape ?? "",
      unit: units.tape,
      more: edge || inserted || (present.planned ? "" : "not planned"),
      aloud: `Go to ${tape}.`,
    };
  }
  const point = pointWords(asked.fraction);
  if (rod === null) {
    return { label: "At", figure: tape ?? "", unit: units.tape, more: point, aloud: `${point}.` };
  }
  return {
    label: asked.fraction === null ? "Rod" : `Rod for ${asked.fraction}`,
    figure: rod.setting,
    unit: units.depth,
    more: `at ${tape} ${units.tape}`,
    aloud: `Rod at ${rod.setting}${asked.points > 1 ? ` for ${point}` : ""}.`,
  };
}

/** Why nobody is sent on: come out, the leader has to say whether to stay, or nobody has said yet. */
export type Halt = "Come out of the water" | "Let the leader decide" | "Safe to wade? Not decided";

/** Return what is called instead while nobody is to be sent on; what was due is named, and waits. */
export function halted(due: Calling, halt: Halt): Calling {
  const waits = [due.label.charAt(0).toLowerCase() + due.label.slice(1), due.figure, due.unit];
  return {
    label: halt,
    figure: "",
    unit: "",
    more: `waits: ${waits.filter(Boolean).join(" ")}`,
    aloud: `${halt}.`,
  };
}

/** Return where a velocity is read, in words: "0.6 of the depth". */
export function pointWords(fraction: number | null): string {
  return fraction === null ? "mean of the vertical" : `${fraction} of the depth`;
}

/** Return which figure the keypad types for what is asked. */
export function quantityOf(present: Present): Quantity | null {
  return present.asked.ask === "nothing" ? null : present.asked.ask;
}

/**
 * Return what the big key says with a figure typed, and without one. Where the meter is read by
 * counting, `counting` has the counts that were called already.
 */
export function keyWords(
  present: Present,
  figure: string | null,
  units: Units,
  counting: { readonly counts: string | null } | null = null,
): string {
  const { asked, inserted } = present;
  switch (asked.ask) {
    case "nothing":
      return "Go to Check";
    case "tape": {
      const place = figure === null ? null : `${figure} ${units.tape}`;
      if (asked.edge !== null) {
        return place ? `${capital(asked.edge)} edge is at ${place}` : `Type the tape at the ${asked.edge} edge`;
      }
      if (place === null) return "Type the tape position";
      return inserted ? `Insert at ${place}` : `The vertical is at ${place}`;
    }
    case "depth":
      return figure === null ? "Type the depth" : `Depth is ${figure} ${units.depth}`;
    case "velocity": {
      const plain = asked.points === 1 && asked.sure && !asked.again;
      const at = plain ? "" : asked.fraction === null ? " (mean)" : ` at ${asked.fraction}`;
      if (counting !== null) {
        const { counts } = counting;
        if (counts === null) return figure === null ? `Type the counts${at}` : `Counts${at} are ${figure}`;
        return figure === null ? `Type the seconds of ${counts} counts` : `${counts} counts in ${figure} s`;
      }
      return figure === null ? `Type the velocity${at}` : `Velocity${at} is ${figure} ${units.velocity}`;
    }
  }
}

export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
