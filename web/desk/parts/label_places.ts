/** Where words stand on a map so that none covers another, or a site: nearby, or not at all. */

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface Wanting {
  readonly width: number;
  readonly height: number;
  /** The places that it may take, the best first, by their upper left corners. */
  readonly places: readonly (readonly [number, number])[];
}

/** Return the corner at which each stands, null for one that has no room; those before come first. */
export function placed(wanting: readonly Wanting[], taken: readonly Box[]): ((readonly [number, number]) | null)[] {
  const boxes = [...taken];
  return wanting.map(({ width, height, places }) => {
    for (const [left, top] of places) {
      const box = { left, top, width, height };
      if (boxes.some((one) => overlap(one, box))) continue;
      boxes.push(box);
      return [left, top];
    }
    return null;
  });
}

/** Return the places for words beside a circle: right, left, above, below, then aslant. */
export function besideCircle(x: number, y: number, radius: number, width: number, height: number): [number, number][] {
  const gap = radius + 3;
  const aslant = radius * 0.7 + 2;
  return [
    [x + gap, y - height / 2],
    [x - gap - width, y - height / 2],
    [x - width / 2, y - gap - height],
    [x - width / 2, y + gap],
    [x + aslant, y - aslant - height],
    [x + aslant, y + aslant],
    [x - aslant - width, y - aslant - height],
    [x - aslant - width, y + aslant],
  ];
}

function overlap(a: Box, b: Box): boolean {
  return (
    a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height
  );
}
