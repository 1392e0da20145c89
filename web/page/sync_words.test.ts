import assert from "node:assert/strict";
import { test } from "node:test";

import type { GaugingSummary } from "../journal/store_contract.ts";
import { newOffice } from "../sync/office_kept.ts";
import { syncStanding, waitingInAll, waitingWords } from "./sync_words.ts";

const kept = newOffice({
  token: "t",
  archive: "season",
  you: { name: "phone", role: "crew" },
  lineage: "l",
  after: 0,
});
const quiet = { running: false, trouble: null as string | null, unreachable: false, waiting: 0 };

test("what waits of a gauging is counted, and why where the server does not take it", () => {
  assert.equal(waitingWords({ entries: 0, photos: 0 }, {}, "g"), "");
  assert.equal(waitingWords({ entries: 1, photos: 0 }, {}, "g"), "1 entry waits for the server");
  assert.equal(waitingWords({ entries: 0, photos: 2 }, {}, "g"), "2 photos wait for the server");
  const stuck = { a: { gauging: "g", said: "Remarks must be shorter." }, b: { gauging: "h", said: "No." } };
  assert.equal(
    waitingWords({ entries: 3, photos: 1 }, stuck, "g"),
    "3 entries and 1 photo wait for the server: Remarks must be shorter.",
  );
});

test("what waits on the device is one sum", () => {
  const with_ = (entries: number, photos: number) =>
    ({ waiting: { entries, photos } }) as unknown as GaugingSummary;
  assert.equal(waitingInAll([with_(0, 0)]), "");
  assert.equal(waitingInAll([with_(2, 0), with_(0, 0), with_(1, 1)]), "3 entries and 1 photo of 2 gaugings");
});

test("how sync stands is one line: what is wrong first, and no connection is nothing wrong", () => {
  const words = (now: Partial<typeof quiet>, revoked = false) => {
    const { shape, words } = syncStanding({ ...kept, revoked }, { ...quiet, ...now });
    return `${shape}: ${words}`;
  };
  assert.equal(words({}), "whole: All is on the server");
  assert.equal(words({ waiting: 1 }), "empty: 1 gauging waits for the server");
  assert.equal(words({ running: true, waiting: 2 }), "part: Syncing with the office");
  assert.equal(words({ trouble: "x", unreachable: true, waiting: 2 }), "empty: 2 gaugings wait for the server");
  assert.match(words({ trouble: "x" }), /^cross: Not synced with the office/);
  assert.match(words({}, true), /^cross: The office does not let this device in/);
});
