/** What the journal tells a reader who comes back to it: where the crew was, and what it planned. */

import type { Entry } from "../../journal/entry.ts";
import { valueAt, type Folded } from "../../journal/fold.ts";
import { isFigure } from "../figures.ts";
import type { ChannelSaid, VerticalSaid } from "../section.ts";

/** Return the planned tape positions from the start bank on, none where nothing is planned. */
export function plannedOf(folded: Folded): string[] {
  const plan = valueAt(folded, "plan") as { readonly positions?: unknown } | null | undefined;
  const positions = plan?.positions;
  if (!Array.isArray(positions)) return [];
  return positions.filter((tape): tape is string => typeof tape === "string" && isFigure(tape));
}

/** Return the channel of which something was said last; the first one where nothing was. */
export function pickedChannel(entries: readonly Entry[]): string {
  return lastReading(entries)?.what.split("/")[1] ?? "1";
}

/** Return the last entry about a channel or a vertical of it, undefined before the first. */
export function lastReading(entries: readonly Entry[]): Entry | undefined {
  return entries.findLast(({ what }) => what.startsWith("channels/"));
}

/** Return the vertical of a channel of which something was said last, null where there is none. */
export function touchedVertical(entries: readonly Entry[], channel: ChannelSaid): VerticalSaid | null {
  const prefix = `channels/${channel.key}/verticals/`;
  const last = entries.findLast(
    ({ what }) =>
      what.startsWith(prefix) &&
      channel.verticals.some(({ key }) => what.startsWith(`${prefix}${key}/`)),
  );
  const key = last?.what.slice(prefix.length).split("/", 1)[0];
  return channel.verticals.find((vertical) => vertical.key === key) ?? null;
}
