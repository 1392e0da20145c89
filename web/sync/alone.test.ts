import assert from "node:assert/strict";
import { after, test } from "node:test";

import { giveNavigator } from "../testing/device.ts";
import { alone } from "./alone.ts";

after(() => giveNavigator({}));

/** Locks as browsers give them: one holder, the others wait or are told that it is taken. */
function giveLocks(): void {
  let last: Promise<unknown> = Promise.resolve();
  let held = 0;
  const request = async (
    _name: string,
    { ifAvailable = false }: { ifAvailable?: boolean },
    work: (lock: object | null) => Promise<unknown>,
  ) => {
    if (ifAvailable && held > 0) return work(null);
    held += 1;
    const turn = last.then(() => work({})).finally(() => (held -= 1));
    last = turn.catch(() => undefined);
    return turn;
  };
  giveNavigator({ locks: { request } });
}

test("what one tab does another leaves, or waits for", async () => {
  giveLocks();
  const order: string[] = [];
  let end: () => void = () => undefined;
  const first = alone(() => new Promise<string>((resolve) => (end = () => resolve("first"))));
  const left = alone(async () => "left");
  const waiting = alone(async () => order.push("waited"), true);
  assert.equal(await left, undefined);
  order.push("before");
  end();
  assert.equal(await first, "first");
  await waiting;
  assert.deepEqual(order, ["before", "waited"]);
});

test("a browser without locks lets every tab", async () => {
  giveNavigator({});
  assert.equal(await alone(async () => "done"), "done");
});
