/** Which sessions count for who is ready, and what keeps a gauging from being one. */

import assert from "node:assert/strict";
import { test } from "node:test";

import type { Entry } from "../journal/entry.ts";
import { entry } from "../testing/journal.ts";
import { Readiness } from "./readiness.svelte.ts";
import { namePerson, sessionFile, sessionFileName, type SessionFile } from "./session_file.ts";

const CLOSED = { what: "closed", value: { by: "T. Quayle" } };
const RECORDER = { what: "crew/c1", value: { name: "T. Quayle", role: "recorder" } };
const SESSION = { stream: "easy run", seed: 4, acts: [] };

/** A device with these gaugings, each with its entries and settings; and all that the engine was asked. */
function device(gaugings: Readonly<Record<string, readonly Partial<Entry>[]>>, settings: Record<string, unknown> = {}) {
  const asked: Record<string, unknown>[] = [];
  const entriesOf = (id: string) =>
    (gaugings[id] ?? []).map((said, i) => entry({ id: `${id}-${i}`, gauging: id, sequence: i + 1, ...said }));
  const store = {
    entries: async (id: string) => entriesOf(id),
    gaugings: async () => Object.keys(gaugings).map((id) => ({ id, stream: "Practice: easy run", site: "number 4" })),
    setting: async (name: string) => settings[name],
    setSetting: async (name: string, value: unknown) => void (settings[name] = value),
  };
  const ask = async (request: { readonly ask: string } & Record<string, unknown>) => {
    asked.push(request);
    if (request.ask === "record") {
      return { ok: true, record: { format: "bankside.gauging/1", id: (request.entries as Entry[])[0]!.gauging } };
    }
    const sessions = request.sessions as SessionFile[];
    if (sessions.some(({ format }) => format !== "bankside.practice/1")) {
      return { ok: false, faults: [{ message: "format must be that of practice" }] };
    }
    return { ok: true, people: [], requirements: {} };
  };
  // Only what is asked for here stands for a store and an engine.
  return { around: { store, engine: { ask } } as never, asked, settings };
}

test("a closed session is a file with its day and its name, and a record without its format", async () => {
  const { around } = device(
    { "practice-1": [RECORDER, CLOSED] },
    { "session/practice-1": SESSION, "session/practice-1/told": [{ check: "c", found: "f", severity: "note" }] },
  );
  const file = (await sessionFile("practice-1", around)) as SessionFile;
  assert.equal(file.person, "T. Quayle");
  assert.equal(file.day, "2026-07-14");
  assert.deepEqual(file.record, { id: "practice-1" });
  assert.equal(file.told.length, 1);
  assert.equal(sessionFileName(file), "practice-T-Quayle-easy-run-4.json");
});

test("what is open, of nobody or of another device is no file, and a name that was said is kept", async () => {
  const { around } = device(
    { open: [RECORDER], unnamed: [CLOSED], away: [RECORDER, CLOSED] },
    { "session/open": SESSION, "session/unnamed": SESSION },
  );
  assert.equal(await sessionFile("open", around), "open");
  assert.equal(await sessionFile("away", around), "not here");
  assert.equal(await sessionFile("unnamed", around), "unnamed");
  await namePerson("unnamed", " Ann Ash ", around);
  assert.equal(((await sessionFile("unnamed", around)) as SessionFile).person, "Ann Ash");
});

test("own and loaded sessions are asked for together, one that is both only once", async () => {
  const { around, asked, settings } = device(
    { "practice-1": [RECORDER, CLOSED], "practice-2": [RECORDER] },
    { "session/practice-1": SESSION, "session/practice-2": SESSION },
  );
  const readiness = new Readiness(around);
  await readiness.read();
  assert.deepEqual(readiness.left.map(({ why, called }) => [why, called]), [["open", "easy run, number 4"]]);
  const own = readiness.own[0]!;
  assert.match(await readiness.load("own.json", JSON.stringify(own)), /is here already/);
  const other = { ...own, person: "Ann Ash", record: { id: "practice-9" } };
  assert.match(await readiness.load("ann.json", JSON.stringify(other)), /was taken: Ann Ash, easy run 4/);
  await readiness.again();
  assert.deepEqual((asked.at(-1)!.sessions as SessionFile[]).map(({ person }) => person), ["T. Quayle", "Ann Ash"]);
  assert.deepEqual(settings["readiness/sessions"], [other]);
  await readiness.unload();
  assert.equal((asked.at(-1)!.sessions as SessionFile[]).length, 1);
});

test("what is no session is not taken, and says so", async () => {
  const { around } = device({});
  const readiness = new Readiness(around);
  assert.match(await readiness.load("a.json", "{"), /a.json was not taken: a practice session is right/);
  assert.match(await readiness.load("b.json", '{"format": "x"}'), /b.json was not taken: format must be/);
  assert.equal(readiness.loaded.length, 0);
});
