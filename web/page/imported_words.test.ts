import assert from "node:assert/strict";
import { test } from "node:test";

import type { Imported } from "../journal/import.ts";
import { StoreTrouble } from "../journal/store_contract.ts";
import { importedWords } from "./imported_words.ts";

const ALL: Imported = { gauging: "g", added: 5, entries: 5, files: 3, unkept: [], missing: 0 };
const FULL = new StoreTrouble("full", "No room.");
const LOST = new StoreTrouble("lost", "The storage is gone.");

test("entries that were taken are told, and each photo that was not is counted with its reason", () => {
  const cases: [Partial<Imported>, string][] = [
    [{}, "5 of its 5 entries are new here."],
    [{ added: 0 }, "all its entries were here already."],
    [
      { unkept: [FULL, FULL, FULL] },
      "5 of its 5 entries are new here. 3 of its photos have no room on this device and were not kept: keep the file, make room, then import it again.",
    ],
    [
      { added: 1, unkept: [LOST, FULL, LOST] },
      "1 of its 5 entries are new here. 1 of its photos has no room on this device and was not kept: keep the file, make room, then import it again. 2 of its photos were not kept. The storage is gone.",
    ],
    [{ missing: 1 }, "5 of its 5 entries are new here. 1 of its photos is not in the file."],
  ];
  for (const [changed, words] of cases) {
    assert.equal(importedWords("alder.json", { ...ALL, ...changed }), `alder.json: ${words}`);
  }
});
