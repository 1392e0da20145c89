/** Only what the browser wrote itself has arrived; of everything else a person is asked. */

import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";

import { giveNavigator } from "../testing/device.ts";
import { handOver } from "./hand_over.ts";

const BLOB = new Blob(["{}"], { type: "application/json" });
let downloads: string[];

/** A browser page: a touch screen or none, and ways to choose a place for a file. */
function givePage(coarse: boolean, window: object = {}): void {
  Object.assign(globalThis, {
    window,
    matchMedia: () => ({ matches: coarse }),
    document: {
      createElement: () => ({
        click(this: { download: string }) {
          downloads.push(this.download);
        },
      }),
    },
  });
}

beforeEach(() => {
  downloads = [];
  // What is left for a minute later keeps no test waiting.
  mock.timers.enable({ apis: ["setTimeout"] });
});
afterEach(() => {
  mock.timers.reset();
  for (const name of ["window", "matchMedia", "document"]) Reflect.deleteProperty(globalThis, name);
});

function sharing(share: () => Promise<void>): object {
  return { canShare: () => true, share };
}

test("a file that another app took is not known to have arrived", async () => {
  givePage(true);
  giveNavigator(sharing(async () => undefined));
  assert.equal(await handOver(BLOB, "a.json"), "unknown");
  assert.deepEqual(downloads, []);
});

test("sharing that a person breaks off is given up; where it is not allowed a download follows", async () => {
  givePage(true);
  giveNavigator(sharing(() => Promise.reject(new DOMException("", "AbortError"))));
  assert.equal(await handOver(BLOB, "a.json"), "given up");
  assert.deepEqual(downloads, []);
  giveNavigator(sharing(() => Promise.reject(new DOMException("", "NotAllowedError"))));
  assert.equal(await handOver(BLOB, "a.json"), "unknown");
  assert.deepEqual(downloads, ["a.json"]);
});

test("a file that was written to a chosen place has arrived", async () => {
  const written: Blob[] = [];
  const stream = { write: async (blob: Blob) => void written.push(blob), close: async () => undefined };
  givePage(false, { showSaveFilePicker: async () => ({ createWritable: async () => stream }) });
  giveNavigator({});
  assert.equal(await handOver(BLOB, "a.json"), "arrived");
  assert.deepEqual(written, [BLOB]);
});
