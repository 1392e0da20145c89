import assert from "node:assert/strict";
import { beforeEach, describe, mock, test } from "node:test";

import type { FromEngine, ToEngine } from "../worker/messages.ts";
import {
  EngineKeeper,
  EngineOff,
  PAUSES,
  QuestionFatal,
  SILENT_BOOT,
  SILENT_QUESTION,
  type Standing,
  type Thread,
} from "./engine_keeper.ts";

/** A thread that does only what a test says. */
class SaidThread {
  onmessage: ((event: MessageEvent) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;
  readonly asked: string[] = [];
  terminated = false;
  #id = 0;

  postMessage(message: ToEngine): void {
    assert.equal(message.kind, "ask");
    if (message.kind === "ask") {
      this.asked.push(message.text);
      this.#id = message.id;
    }
  }

  terminate(): void {
    this.terminated = true;
  }

  says(data: FromEngine): void {
    this.onmessage?.({ data } as MessageEvent);
  }

  boots(): void {
    this.says({ kind: "ready", about: "{}" });
  }

  answers(text: string): void {
    this.says({ kind: "answer", id: this.#id, text });
  }

  dies(): void {
    this.says({ kind: "died", why: "out of memory" });
  }
}

let threads: SaidThread[];
let standings: Standing[];

function keeper(): EngineKeeper {
  return new EngineKeeper({
    start: () => {
      threads.push(new SaidThread());
      return threads.at(-1) as unknown as Thread;
    },
    changed: (standing) => standings.push(standing),
  });
}

function last(): SaidThread {
  return threads.at(-1)!;
}

/** How a promise ended by now: its value, its error, or that it has not. */
async function ended(promise: Promise<string>): Promise<string | Error> {
  return Promise.race([
    promise.catch((error: Error) => error),
    new Promise<string>((resolve) => setImmediate(resolve, "not yet")),
  ]);
}

/** One by one, so that a timer set on the way counts from its own second. */
function seconds(count: number): void {
  for (let second = 0; second < count; second++) mock.timers.tick(1000);
}

beforeEach(() => {
  threads = [];
  standings = [];
  mock.timers.reset();
  mock.timers.enable({ apis: ["setInterval", "setTimeout"] });
});

describe("asking", () => {
  test("nothing is started before what it waits for is over, and what was asked meanwhile is put", async () => {
  let over!: () => void;
  const after = new Promise<void>((done) => (over = done));
  const waiting = new EngineKeeper({
    start: () => {
      threads.push(new SaidThread());
      return last() as unknown as Thread;
    },
    changed: () => undefined,
    after,
  });
  const answer = waiting.ask("a");
  assert.deepEqual([threads.length, waiting.standing.state], [0, "loading"]);
  over();
  await after;
  last().boots();
  last().answers("b");
  assert.equal(await answer, "b");
});

test("a question put while it boots is answered once it has", async () => {
    const answer = keeper().ask("q");
    assert.deepEqual(last().asked, []);
    last().boots();
    last().answers("a");
    assert.equal(await ended(answer), "a");
  });

  test("questions go out one at a time, in the order they were put", async () => {
    const engine = keeper();
    last().boots();
    const answers = [engine.ask("first"), engine.ask("second")];
    assert.deepEqual(last().asked, ["first"]);
    last().answers("1");
    assert.deepEqual(last().asked, ["first", "second"]);
    last().answers("2");
    assert.deepEqual(await Promise.all(answers), ["1", "2"]);
  });

  test("an idle engine is not taken for a dead one", () => {
    const engine = keeper();
    last().boots();
    seconds(3600);
    assert.equal(engine.standing.state, "ready");
    assert.equal(threads.length, 1);
  });
});

describe("dying", () => {
  test("after a death another thread boots and gets the waiting questions", async () => {
    const engine = keeper();
    last().boots();
    const answers = [engine.ask("first"), engine.ask("second")];
    last().dies();
    assert.equal(threads[0]!.terminated, true);
    assert.equal(engine.standing.state, "restarting");
    assert.equal(engine.standing.trouble, "out of memory");
    seconds(PAUSES[0]!);
    last().boots();
    last().answers("1");
    last().answers("2");
    assert.deepEqual(await Promise.all(answers), ["1", "2"]);
    assert.equal(engine.standing.state, "ready");
    assert.equal(engine.standing.trouble, null);
    assert.equal(threads.length, 2);
  });

  test("what an ended thread still says is not heard", async () => {
    const engine = keeper();
    last().boots();
    const answer = engine.ask("q");
    const first = last();
    first.dies();
    first.answers("too late");
    first.dies();
    assert.equal(await ended(answer), "not yet");
    seconds(PAUSES[0]!);
    assert.equal(threads.length, 2);
  });

  test("a thread whose files cannot be loaded is a death", () => {
    const engine = keeper();
    last().onerror!({ message: "" } as ErrorEvent);
    assert.equal(engine.standing.state, "restarting");
    assert.match(engine.standing.trouble!, /files could not be loaded/);
  });

  test("a question that is out at two deaths is given back, and the others are answered", async () => {
    const engine = keeper();
    last().boots();
    const fatal = engine.ask("fatal");
    const other = engine.ask("other");
    last().dies();
    seconds(PAUSES[0]!);
    last().boots();
    last().dies();
    assert.ok((await ended(fatal)) instanceof QuestionFatal);
    seconds(PAUSES[1]!);
    last().boots();
    assert.deepEqual(last().asked, ["other"]);
    last().answers("fine");
    assert.equal(await ended(other), "fine");
  });
});

describe("falling silent", () => {
  test("a boot without a sign of life is ended at its limit, and not before", () => {
    const engine = keeper();
    seconds(SILENT_BOOT - 1);
    assert.equal(engine.standing.state, "loading");
    seconds(1);
    assert.equal(engine.standing.state, "restarting");
    assert.equal(threads[0]!.terminated, true);
  });

  test("a boot that goes on fetching may last as long as it likes", () => {
    const engine = keeper();
    for (let bytes = 1; bytes < 100; bytes++) {
      seconds(SILENT_BOOT - 1);
      last().says({ kind: "step", step: "fetch", bytes });
    }
    assert.equal(engine.standing.state, "loading");
    assert.deepEqual(engine.standing.step, { name: "fetch", bytes: 99 });
  });

  test("a question without an answer ends the thread at its limit, and is put again", () => {
    const engine = keeper();
    last().boots();
    seconds(3600);
    void engine.ask("q");
    seconds(SILENT_QUESTION - 1);
    assert.equal(engine.standing.state, "ready");
    seconds(1);
    assert.equal(engine.standing.state, "restarting");
    seconds(PAUSES[0]!);
    last().boots();
    assert.deepEqual(last().asked, ["q"]);
  });

  test("each question has its whole time, however long the one before it took", () => {
    const engine = keeper();
    last().boots();
    void engine.ask("first");
    void engine.ask("second");
    seconds(SILENT_QUESTION - 1);
    last().answers("1");
    seconds(SILENT_QUESTION - 1);
    assert.equal(engine.standing.state, "ready");
  });
});

describe("giving up", () => {
  test("three boots in a row that fail turn it off within two and a half minutes", async () => {
    const engine = keeper();
    const answer = engine.ask("q");
    seconds(150);
    assert.equal(engine.standing.state, "off");
    assert.equal(threads.length, 3);
    assert.ok((await ended(answer)) instanceof EngineOff);
    assert.ok((await ended(engine.ask("later"))) instanceof EngineOff);
    seconds(3600);
    assert.equal(threads.length, 3);
  });

  test("deaths without an answer in between turn it off after growing pauses", () => {
    const engine = keeper();
    for (const pause of PAUSES) {
      last().boots();
      last().dies();
      const before = threads.length;
      seconds(pause - 1);
      assert.equal(threads.length, before);
      seconds(1);
      assert.equal(threads.length, before + 1);
    }
    last().boots();
    last().dies();
    assert.equal(engine.standing.state, "off");
  });

  test("an answer in between makes the count begin anew", async () => {
    const engine = keeper();
    for (let time = 0; time < 20; time++) {
      last().boots();
      const answer = engine.ask("q");
      last().answers("a");
      await answer;
      last().dies();
      seconds(PAUSES[0]!);
    }
    assert.notEqual(engine.standing.state, "off");
  });

  test("trying again begins anew, with all its tries", () => {
    const engine = keeper();
    seconds(150);
    engine.tryAgain();
    assert.equal(engine.standing.state, "loading");
    last().dies();
    assert.equal(engine.standing.state, "restarting");
    seconds(PAUSES[0]!);
    last().boots();
    assert.equal(engine.standing.state, "ready");
    engine.tryAgain();
    assert.equal(threads.length, 5);
  });
});

test("steps are told forwards only: bytes that are counted late do not bring back a former one", () => {
  const engine = keeper();
  last().says({ kind: "step", step: "start", bytes: 0 });
  last().says({ kind: "step", step: "fetch", bytes: 9 });
  assert.equal(engine.standing.step?.name, "start");
});
