/** What the recorder has typed and chosen but not yet said; it outlives a reload, not the power. */

import type { Value } from "../../journal/entry.ts";
import type { Quantity } from "./calling.ts";
import type { Chosen } from "./next.ts";
import { NOTHING_TYPED, typedFrom, type Typed } from "./typed.ts";

/** A figure that goes to one place: a correction, or an angle. */
export interface Entering {
  readonly what: string;
  /** What is typed, such as "Depth at 14.5". */
  readonly label: string;
  readonly quantity: Quantity;
  /** What stands there; null where nothing does. */
  readonly was: string | null;
  /** Which part of a reading it is; absent for what is a text by itself. */
  readonly member?: Member;
}

export type Member = "value" | "counts" | "seconds";

export interface Draft {
  /** The id of the last entry about a vertical when it was kept; null before the first. */
  readonly after: string | null;
  readonly channel: string;
  readonly chosen: Chosen | null;
  readonly entering: Entering | null;
  readonly typed: Typed;
  /** Counts that wait for their seconds. */
  readonly counts: string | null;
  readonly velocityCalled: boolean;
  readonly left: readonly string[];
  /** The points at which verticals are read, where the recorder said so. */
  readonly points: { readonly [vertical: string]: readonly (number | null)[] };
}

/** Return the draft as it is kept, undefined where there is nothing to keep. */
export function kept(draft: Draft): Value | undefined {
  const { chosen, entering, typed, left, points } = draft;
  const nothing =
    draft.channel === "1" &&
    chosen === null &&
    entering === null &&
    typed.keys === "" &&
    !typed.negative &&
    draft.counts === null &&
    !draft.velocityCalled &&
    left.length === 0 &&
    Object.keys(points).length === 0;
  return nothing ? undefined : (JSON.parse(JSON.stringify(draft)) as Value);
}

/**
 * Return a draft as it was kept; what another version kept otherwise counts as nothing. `after` is
 * the last entry about a vertical now: digits that were typed before it are its figure, and are not
 * typed any more.
 */
export function draftFrom(value: unknown, after: string | null): Draft | null {
  if (!isObject(value) || typeof value["channel"] !== "string") return null;
  const { chosen, entering, left, points } = value;
  const draft: Draft = {
    after,
    channel: value["channel"],
    chosen: isObject(chosen) && typeof chosen["go"] === "string" ? (chosen as unknown as Chosen) : null,
    entering:
      isObject(entering) && typeof entering["what"] === "string"
        ? (entering as unknown as Entering)
        : null,
    typed: isObject(value["typed"]) ? typedFrom(value["typed"]) : NOTHING_TYPED,
    counts: typeof value["counts"] === "string" ? value["counts"] : null,
    velocityCalled: value["velocityCalled"] === true,
    left: Array.isArray(left) ? left.filter((key) => typeof key === "string") : [],
    points: isObject(points) ? (points as Draft["points"]) : {},
  };
  if (value["after"] === after) return draft;
  return { ...draft, chosen: null, entering: null, typed: NOTHING_TYPED, counts: null };
}

function isObject(value: unknown): value is { readonly [key: string]: unknown } {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
