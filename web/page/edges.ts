/** The edges of water of the first channel, as far as they are said. */

import { keysUnder, textAt, valueAt, type Folded } from "../journal/fold.ts";
import { newKey, type OpenGauging, type Saying } from "./gauging.svelte.ts";

export type Side = "left" | "right";
export type BankForm = "sloping" | "steep" | "undercut";

export interface EdgeSaid {
  readonly key: string;
  readonly tape: string | undefined;
  readonly bank: BankForm | undefined;
  readonly depth: string | undefined;
  /** Where these are said. */
  readonly whats: readonly string[];
}

const CHANNEL = "channels/1/verticals";

export function edgeOf(folded: Folded, side: Side): EdgeSaid | null {
  const edges = keysUnder(folded, CHANNEL)
    .filter((key) => valueAt(folded, `${CHANNEL}/${key}/edge`) === side)
    .map((key) => ({
      key,
      tape: textAt(folded, `${CHANNEL}/${key}/tape`),
      bank: textAt(folded, `${CHANNEL}/${key}/bank`) as BankForm | undefined,
      depth: textAt(folded, `${CHANNEL}/${key}/depth`),
      whats: ["tape", "bank", "depth"].map((part) => `${CHANNEL}/${key}/${part}`),
    }));
  return edges.find(({ tape }) => tape !== undefined) ?? edges[0] ?? null;
}

/** Say the tape position of an edge; "" takes the edge out. */
export function sayTape(gauging: OpenGauging, side: Side, tape: string): Promise<void> {
  return sayOf(gauging, side, () => [{ part: "tape", value: tape === "" ? null : tape }]);
}

/** Say the depth at an edge; "" takes it out. */
export function sayDepth(gauging: OpenGauging, side: Side, depth: string): Promise<void> {
  return sayOf(gauging, side, () => [{ part: "depth", value: depth === "" ? null : depth }]);
}

/** Say the form of the bank: a sloping one has depth 0 by what it is, the others have not. */
export function sayBank(gauging: OpenGauging, side: Side, bank: BankForm): Promise<void> {
  return sayOf(gauging, side, (edge) => {
    const form = { part: "bank", value: bank };
    if (bank === "sloping") return [form, { part: "depth", value: "0" }];
    const zero = edge?.depth !== undefined && Number(edge.depth) === 0;
    return zero ? [form, { part: "depth", value: null }] : [form];
  });
}

function sayOf(
  gauging: OpenGauging,
  side: Side,
  told: (edge: EdgeSaid | null) => { part: string; value: string | null }[],
): Promise<void> {
  const edge = edgeOf(gauging.folded, side);
  const key = edge?.key ?? newKey("v");
  const sayings: Saying[] = told(edge).map(({ part, value }) => ({
    what: `${CHANNEL}/${key}/${part}`,
    value,
  }));
  if (edge === null) {
    // A field that was typed in and emptied again is no edge.
    if (sayings.every(({ value }) => value === null)) return Promise.resolve();
    sayings.push({ what: `${CHANNEL}/${key}/edge`, value: side });
  }
  return gauging.sayAll(sayings);
}

/** Return what is odd about the edges against the zero of the tape, in one sentence. */
export function edgesOdd(folded: Folded): string | null {
  const [left, right] = [edgeOf(folded, "left")?.tape, edgeOf(folded, "right")?.tape];
  if (left === undefined || right === undefined) return null;
  const width = Number(right) - Number(left);
  if (width === 0) return `Both edges of water read ${left}: one of them is wrong.`;
  const zero = textAt(folded, "zero_bank");
  if (zero === undefined || (zero === "left") === width > 0) return null;
  const greater = zero === "left" ? "right" : "left";
  return (
    `The tape's zero hangs at the ${zero} bank, so the ${greater} edge should read more than the ` +
    `${zero} edge: it reads ${greater === "right" ? right : left} against ` +
    `${greater === "right" ? left : right}.`
  );
}
