/** Which columns a paper sheet has: tape and depth always, and what was written of the velocity. */

export type Angle = "none" | "degrees" | "cosine";

/** How the sheet at hand is ruled; kept on the device for the next one. */
export interface Ruling {
  /** Where velocities were read, as fractions of the depth; null for one figure for the vertical. */
  readonly points: readonly (number | null)[];
  /** Whether revolutions were counted in the place of a velocity. */
  readonly counts: boolean;
  readonly seconds: boolean;
  readonly angle: Angle;
  readonly remarks: boolean;
}

export const USUAL_RULING: Ruling = {
  points: [0.6],
  counts: false,
  seconds: false,
  angle: "none",
  remarks: false,
};

/** The points that sheets are ruled for, from the surface down. */
export const POINTS: readonly (number | null)[] = [null, 0, 0.2, 0.4, 0.5, 0.6, 0.8, 1];

export type Member = "value" | "counts" | "seconds";

export interface PaperColumn {
  readonly id: string;
  readonly head: string;
  readonly unit: "length" | "depth" | "velocity" | "s" | "°" | "";
  readonly holds:
    | { readonly part: "tape" | "depth" | "angle" | "angle_coefficient" | "remark" }
    | { readonly fraction: number | null; readonly member: Member };
  readonly figure: boolean;
  readonly signed: boolean;
}

export function columnsOf({ points, counts, seconds, angle, remarks }: Ruling): PaperColumn[] {
  const wanted = points.length > 0 ? points : [null];
  const ordered = POINTS.filter((point) => wanted.includes(point));
  return [
    { id: "tape", head: "Tape", unit: "length", holds: { part: "tape" }, figure: true, signed: true },
    { id: "depth", head: "Depth", unit: "depth", holds: { part: "depth" }, figure: true, signed: false },
    ...ordered.flatMap((fraction): PaperColumn[] => {
      const where = fraction === null ? "" : ` at ${fraction}`;
      const read: PaperColumn = counts
        ? { id: `c${fraction}`, head: `Counts${where}`, unit: "", holds: { fraction, member: "counts" }, figure: true, signed: false }
        : { id: `v${fraction}`, head: `Velocity${where}`, unit: "velocity", holds: { fraction, member: "value" }, figure: true, signed: true };
      if (!seconds && !counts) return [read];
      return [read, { id: `s${fraction}`, head: `Seconds${where}`, unit: "s", holds: { fraction, member: "seconds" }, figure: true, signed: false }];
    }),
    ...angleColumns(angle),
    ...(remarks ? [{ id: "remark", head: "Remark", unit: "", holds: { part: "remark" }, figure: false, signed: false } as const] : []),
  ];
}

/** Return a ruling as it was kept, the usual one where nothing of use was. */
export function rulingFrom(kept: unknown): Ruling {
  const { points, counts, seconds, angle, remarks } = (kept ?? {}) as Partial<Record<keyof Ruling, unknown>>;
  return {
    points: Array.isArray(points) ? POINTS.filter((point) => points.includes(point)) : USUAL_RULING.points,
    counts: counts === true,
    seconds: seconds === true,
    angle: angle === "degrees" || angle === "cosine" ? angle : "none",
    remarks: remarks === true,
  };
}

function angleColumns(angle: Angle): PaperColumn[] {
  if (angle === "none") return [];
  const degrees = angle === "degrees";
  return [
    {
      id: "angle",
      head: degrees ? "Angle" : "Cosine of the angle",
      unit: degrees ? "°" : "",
      holds: { part: degrees ? "angle" : "angle_coefficient" },
      figure: true,
      signed: degrees,
    },
  ];
}
