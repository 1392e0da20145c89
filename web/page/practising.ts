/**
 * Whether this page practises: its address says so when it is opened, and it stays so for its life.
 * Practice has a store of its own, so that no page ever holds practice and real gaugings at once.
 */

const WORD = "practice";

/** Whether an address is one of practice: `#/practice`, and all that begins with it. */
export function isPractice(hash: string): boolean {
  return hash.replace(/^#\/?/, "").split("/")[0] === WORD;
}

export const practising: boolean = typeof location !== "undefined" && isPractice(location.hash);

/** Where practice begins, from a page that does not practise. */
export const TO_PRACTICE = `#/${WORD}`;

/** Where real gaugings are, from a page that practises. */
export const FROM_PRACTICE = "#/";
