import assert from "node:assert/strict";
import { test } from "node:test";

import { ask, objectOf, type Fetch } from "./request.ts";
import { SyncTrouble, type SyncTroubleKind } from "./trouble.ts";

const trouble = (kind: SyncTroubleKind, words: RegExp) => (error: unknown) =>
  error instanceof SyncTrouble && error.kind === kind && words.test(error.message);
const asked = { method: "POST", path: "entries", json: { entries: [] } } as const;
const answers =
  (body: string, options?: ResponseInit): Fetch =>
  async () =>
    new Response(body, options);
const says = (status: number) => JSON.stringify({ error: { status, said: "A sentence.", faults: [] } });

test("a request goes below the page's own address with the token, and nothing is cached", async () => {
  const seen: [string, RequestInit][] = [];
  const fetched: Fetch = async (address, options) => {
    seen.push([address, options]);
    return new Response("{}");
  };
  await ask(fetched, { ...asked, token: "t1" }, objectOf);
  const [address, { method, body, cache, redirect, headers }] = seen[0]!;
  assert.equal(address, "api/1/entries");
  assert.deepEqual([method, body, cache, redirect], ["POST", '{"entries":[]}', "no-store", "error"]);
  assert.equal((headers as Record<string, string>)["Authorization"], "Bearer t1");
});

test("every failure is of one of four kinds, with a sentence", async () => {
  const lost: Fetch = () => Promise.reject(new TypeError("Failed to fetch"));
  await assert.rejects(ask(lost, asked, objectOf), trouble("unreachable", /cannot be reached/));
  const refused = [400, 403, 404, 409, 413, 422];
  for (const status of refused) {
    await assert.rejects(ask(answers(says(status), { status }), asked, objectOf), trouble("refused", /^A sentence\.$/));
  }
  await assert.rejects(
    ask(answers(says(401), { status: 401 }), asked, objectOf),
    trouble("not signed in", /does not let this device in/),
  );
  for (const status of [429, 500, 502, 503]) {
    await assert.rejects(
      ask(answers(status === 500 ? says(500) : "<html>", { status }), asked, objectOf),
      trouble("server", /trouble of its own/),
    );
  }
  for (const body of ["<html>", "[]", "", '{"added": [']) {
    await assert.rejects(ask(answers(body), asked, objectOf), trouble("server", /not the office's server/));
  }
});

test("an answer that breaks off is none", async () => {
  const broken = new ReadableStream({
    start(controller) {
      controller.enqueue(new TextEncoder().encode('{"added": []'));
      controller.error(new TypeError("network error"));
    },
  });
  await assert.rejects(ask(async () => new Response(broken), asked, objectOf), trouble("unreachable", /./));
});

test("nobody waits for ever, and longer for what takes longer to send", async (t) => {
  const waits = t.mock.method(AbortSignal, "timeout");
  await ask(answers("{}"), { method: "GET", path: "about" }, objectOf);
  const bytes = { type: "image/jpeg", content: new ArrayBuffer(4_000_000) };
  await ask(answers("{}"), { method: "PUT", path: "files/x", bytes }, objectOf);
  assert.deepEqual(waits.mock.calls.map(({ arguments: [ms] }) => ms), [30_000, 1_030_000]);
});
