/**
 * The cautions before the first step for when the engine is not up; it has them in full, with
 * their sources. They remind, and decide nothing.
 */

export const DEFERENCE =
  "Local rules, permits, the site's hazard plan, licensed practice and the crew leader decide; " +
  "these reminders replace none of them.";

/** In the words of the note's short cautions: src/bankside/report/cautions.py. */
export const SHORT_CAUTIONS: readonly string[] = [
  "Depth × velocity: stay out at 10 ft²/s (0.93 m²/s), sooner on a bad bed; your own rules set the limit.",
  "Wear a fastened PFD in, near and over water, unless the site's hazard plan differs.",
  "Cold water takes the use of your hands in minutes: dress for it, take turns, stop.",
  "Never alone: spotter downstream with a throw bag, signals agreed, check-in left.",
  "Tight wader belt, gripping soles (felt is banned in places), a staff as third leg.",
  "Look downstream for strainers first; if you fall, float feet up, never stand.",
  "Out for lightning, rising or muddy water, debris; ask about dam releases first.",
  "Move no stones without a written permit; write down what moved, and put it back.",
  "Never step on redds: know the closed seasons, walk the margins, move the section.",
  "Clean, drain and dry all gear before another water; local decontamination rules.",
];
