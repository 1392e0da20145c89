/** Putting rows in order by what stands in a column; what is not known stands last either way. */

export type Sortable = string | number | null;

export interface Order {
  readonly column: number;
  readonly down: boolean;
}

const WORDS = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** Return rows in order; rows that are alike keep the order that they had. */
export function inOrderOf<T>(rows: readonly T[], by: (row: T) => Sortable, down: boolean): T[] {
  const compare = (a: Sortable, b: Sortable): number => {
    if (a === null || b === null) return Number(a === null) - Number(b === null);
    const one = typeof a === "number" && typeof b === "number" ? a - b : WORDS.compare(`${a}`, `${b}`);
    return down ? -one : one;
  };
  return [...rows].sort((a, b) => compare(by(a), by(b)));
}

/** Return the order after a press on a column's head: the same column turns round. */
export function pressedHead(order: Order | null, column: number): Order {
  return { column, down: order?.column === column ? !order.down : false };
}
