/** A photo is stored before it is named and made no larger; one that is not kept is told. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { StoreTrouble, type StoredFile } from "../journal/store_contract.ts";
import type { Saying } from "./gauging.svelte.ts";
import { fitted, keepPhotos, type PhotoPlace } from "./photos.ts";

const FILE = new File(["a picture"], "IMG_1.jpg", { type: "image/jpeg" });
/** SHA-256 of the three letters abc: FIPS 180-2, appendix B.1. */
const ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

function placed(more: Partial<PhotoPlace> = {}) {
  const done: (StoredFile | Saying)[] = [];
  const place: PhotoPlace = {
    store: { putFile: async (file) => void done.push(file) },
    say: async (saying) => void done.push(saying),
    shrink: async () => new Blob(["abc"], { type: "image/jpeg" }),
    ...more,
  };
  return { place, done };
}

test("the file is kept first, then the entry names it by checksum, size and purpose", async () => {
  const { place, done } = placed();
  assert.deepEqual(await keepPhotos([FILE], "upstream", place), []);
  const [file, saying] = done as [StoredFile, Saying];
  assert.deepEqual([file.sha256, file.type, file.bytes.byteLength], [ABC, "image/jpeg", 3]);
  assert.match(saying.what, /^photos\/p[0-9a-z]{5}$/);
  assert.deepEqual(saying.value, {
    purpose: "upstream",
    sha256: ABC,
    bytes: 3,
    type: "image/jpeg",
    name: "IMG_1.jpg",
  });
});

test("a picture that cannot be read, or has no room, is told and nothing is said", async () => {
  const full = { putFile: () => Promise.reject(new StoreTrouble("full", "No room.")) };
  const lost = { putFile: () => Promise.reject(new StoreTrouble("lost", "Taken away.")) };
  const cases: [Partial<PhotoPlace>, RegExp][] = [
    [{ shrink: () => Promise.reject(new Error("odd")) }, /“IMG_1.jpg” could not be read/],
    [{ store: full }, /no room on this device/],
    [{ store: lost }, /not kept: Taken away\./],
  ];
  for (const [more, message] of cases) {
    const { place, done } = placed(more);
    const [told, ...others] = await keepPhotos([FILE], "other", place);
    assert.match(told!, message);
    assert.deepEqual([others, done], [[], []]);
  }
});

test("of several photos each that is not kept is told by its name, and the others are kept", async () => {
  const shrink = async (file: Blob) => {
    if (file.size === 0) throw new Error("odd");
    return new Blob([file]);
  };
  const odd = { putFile: async ({ bytes }: StoredFile) => {
    if (bytes.byteLength === 1) throw new RangeError("nobody knows this one.");
  } };
  const { place, done } = placed({ shrink, store: odd });
  const files = ["", "a", "a picture"].map((text, i) => new File([text], `IMG_${i}.jpg`));
  const told = await keepPhotos(files, "other", place);
  assert.match(told[0]!, /“IMG_0.jpg” could not be read/);
  assert.equal(told[1], "The photo “IMG_1.jpg” was not kept: nobody knows this one.");
  assert.equal(told.length, 2);
  assert.deepEqual(done.map((said) => ((said as Saying).value as { name: string }).name), ["IMG_2.jpg"]);
});

test("the longest side is cut down and the shape kept; small pictures stay as they are", () => {
  assert.deepEqual(fitted(4096, 3072), [2048, 1536]);
  assert.deepEqual(fitted(3000, 4000), [1536, 2048]);
  assert.deepEqual(fitted(640, 480), [640, 480]);
  assert.deepEqual(fitted(30_000, 3), [2048, 1]);
});
