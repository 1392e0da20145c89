/**
 * Keeping a photo: made smaller, stored under its checksum, and only then named by an entry. A
 * photo that cannot be kept says so in a sentence, and never takes the room of readings.
 */

import { sha256Of } from "../journal/digest.ts";
import { StoreTrouble, type Store } from "../journal/store_contract.ts";
import { newKey, type Saying } from "./gauging.svelte.ts";
import type { Purpose } from "./photos_said.ts";
import { sentence } from "./sentence.ts";

export const LONGEST_SIDE = 2048;
const QUALITY = 0.85;
const TYPE = "image/jpeg";

/** Why a photo was not kept, in sentences for people. */
class PhotoTrouble extends Error {
  override readonly name = "PhotoTrouble";
}

/** What keeping needs from the device; tests give others. */
export interface PhotoPlace {
  readonly store: Pick<Store, "putFile">;
  readonly say: (saying: Saying) => Promise<void>;
  /** Return the picture made smaller; rejects where it cannot be read. */
  readonly shrink: (file: Blob) => Promise<Blob>;
}

/** Keep photos for a purpose, one by one; return why each that was not kept was not. */
export async function keepPhotos(
  files: readonly File[],
  purpose: Purpose,
  place: PhotoPlace,
): Promise<string[]> {
  const troubles: string[] = [];
  for (const file of files) {
    try {
      await keepPhoto(file, purpose, place);
    } catch (error) {
      // Of whatever kind: the other photos are kept all the same.
      troubles.push(
        error instanceof PhotoTrouble ? error.message : `${called(file)} was not kept: ${sentence(error)}.`,
      );
    }
  }
  return troubles;
}

/** Keep a photo for a purpose. PhotoTrouble where that is not possible; nothing is said then. */
async function keepPhoto(file: File, purpose: Purpose, place: PhotoPlace): Promise<void> {
  const picture = await place.shrink(file).catch(() => {
    throw new PhotoTrouble(
      `${called(file)} could not be read as a picture, so it was not kept. Take it again, or choose a JPEG or PNG file.`,
    );
  });
  const bytes = await picture.arrayBuffer();
  const sha256 = await sha256Of(bytes);
  try {
    await place.store.putFile({ sha256, type: picture.type, bytes });
  } catch (error) {
    if (!(error instanceof StoreTrouble)) throw error;
    throw new PhotoTrouble(
      error.kind === "full"
        ? noRoom(file, bytes.byteLength)
        : `${called(file)} was not kept: ${error.message}`,
    );
  }
  const name = file.name.trim();
  await place.say({
    what: `photos/${newKey("p")}`,
    value: {
      purpose,
      sha256,
      bytes: bytes.byteLength,
      type: picture.type,
      ...(name === "" ? {} : { name }),
    },
  });
}

/** Return the size of a picture whose longest side is at most so long; never made larger. */
export function fitted(width: number, height: number, longest = LONGEST_SIDE): [number, number] {
  const scale = Math.min(1, longest / Math.max(width, height));
  return [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
}

/** Return a picture as JPEG, upright as the camera held it, its longest side cut down. */
export async function shrunk(file: Blob): Promise<Blob> {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  try {
    const [width, height] = fitted(picture.width, picture.height);
    const canvas = document.createElement("canvas");
    canvas.width = width;
    canvas.height = height;
    const drawing = canvas.getContext("2d");
    if (drawing === null) throw new Error("no canvas to draw on");
    drawing.drawImage(picture, 0, 0, width, height);
    return await new Promise((resolve, reject) => {
      canvas.toBlob(
        (blob) => (blob?.type === TYPE ? resolve(blob) : reject(new Error("no JPEG was made"))),
        TYPE,
        QUALITY,
      );
    });
  } finally {
    picture.close();
  }
}

/** Return a size as people read it: 0.9 MB. */
export function sizeWords(bytes: number): string {
  return `${(bytes / 1e6).toFixed(1)} MB`;
}

function noRoom(file: File, bytes: number): string {
  return (
    `${called(file)} (${sizeWords(bytes)}) has no room on this device and was not kept; readings come first. ` +
    "Export gaugings and remove them from the device, or keep the photo in the camera and say so in the remarks."
  );
}

function called(file: File): string {
  const name = file.name.trim();
  return name === "" ? "The photo" : `The photo “${name}”`;
}
