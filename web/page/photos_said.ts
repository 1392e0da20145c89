/** The photos of a gauging as its entries name them. */

import { keysUnder, valueAt, type Folded } from "../journal/fold.ts";

/** What a photo is for; usual are those that tell a reader where and how it was measured. */
export const PURPOSES = [
  { purpose: "upstream", words: "Upstream", shows: "from the section, looking upstream", usual: true },
  { purpose: "downstream", words: "Downstream", shows: "from the section, looking downstream", usual: true },
  { purpose: "left bank", words: "Left bank", shows: "across, to the left bank", usual: true },
  { purpose: "right bank", words: "Right bank", shows: "across, to the right bank", usual: true },
  { purpose: "staff gauge", words: "Staff gauge", shows: "so that the level can be read", usual: true },
  { purpose: "field sheet", words: "Field sheet", shows: "if a paper sheet was used", usual: false },
  { purpose: "other", words: "Something else", shows: "such as a mark, an obstacle, damage", usual: false },
] as const;

export type Purpose = (typeof PURPOSES)[number]["purpose"];

export interface PhotoSaid {
  readonly key: string;
  readonly purpose: Purpose;
  readonly sha256: string;
  readonly bytes: number;
  readonly at: string;
}

/** Return the photos that stand, in the order taken. */
export function photosOf(folded: Folded): PhotoSaid[] {
  return keysUnder(folded, "photos").flatMap((key): PhotoSaid[] => {
    const said = folded.get(`photos/${key}`);
    const photo = valueAt(folded, `photos/${key}`) as Partial<PhotoSaid> | null;
    if (!said || !photo?.sha256 || !photo.purpose) return [];
    const { purpose, sha256, bytes = 0 } = photo;
    return [{ key, purpose, sha256, bytes, at: said.history[0]!.at }];
  });
}
