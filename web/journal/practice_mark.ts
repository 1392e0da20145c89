/** The mark of practice: the id of its gaugings, which every entry bears. As in Python. */

export const PRACTICE_ID = "practice-";

export function isPracticeId(gauging: string): boolean {
  return gauging.startsWith(PRACTICE_ID);
}

/** Return why a gauging cannot be where only practice, or only real water, is; null if it can. */
export function misplaced(gauging: string, practice: boolean): string | null {
  if (isPracticeId(gauging) === practice) return null;
  return practice
    ? "is of real water: end practice and bring it to the gaugings"
    : "is practice on a simulated stream, and never comes among gaugings of real water: bring it to Practice";
}
