/**
 * Devices and a server in random orders of saying, syncing, lost requests and answers, answers that
 * came twice, and pages that die: in the end all hold the same, each entry once.
 */

import assert from "node:assert/strict";
import { test } from "node:test";

import { contentOf, type Entry } from "../journal/entry.ts";
import { fold } from "../journal/fold.ts";
import { sha256Of } from "../journal/digest.ts";
import { filesNamed } from "../journal/summary.ts";
import { giveNavigator } from "../testing/device.ts";
import { Device } from "../testing/devices.ts";
import { FakeOffice } from "../testing/fake_office.ts";
import { entry, seeded } from "../testing/journal.ts";
import type { Fetch } from "./request.ts";

const RUNS = Number(process.env["BANKSIDE_RUNS"] ?? 200);
const STEPS = 14;

/** A network that loses requests and answers, and brings requests twice; or a server that fails. */
class Weather {
  fair = true;
  readonly #office: FakeOffice;
  readonly #random: () => number;

  constructor(office: FakeOffice, random: () => number) {
    this.#office = office;
    this.#random = random;
  }

  readonly fetch: Fetch = async (address, options) => {
    const chance = this.fair ? 1 : this.#random();
    if (chance < 0.08) throw new TypeError("the request was lost");
    if (chance < 0.12) return new Response("", { status: 503 });
    if (chance < 0.15) return new Response("<html>sign in</html>");
    const answer = await this.#office.fetch(address, options);
    if (chance < 0.25) throw new TypeError("the answer was lost");
    return chance < 0.32 ? this.#office.fetch(address, options) : answer;
  };
}

class Journey {
  readonly office = new FakeOffice();
  readonly weather: Weather;
  readonly devices: Device[] = [];
  readonly said = new Map<string, Entry>();
  /** How often what was tried happened, so that a run in which nothing does is seen. */
  readonly counts = { deaths: 0, removals: 0, photos: 0 };
  readonly #random: () => number;

  constructor(random: () => number) {
    this.#random = random;
    this.weather = new Weather(this.office, random);
  }

  async begin(): Promise<void> {
    for (const name of ["phone", "tablet", "watch"]) {
      const device = await new Device(this.weather.fetch, this.#random).open();
      this.devices.push(device);
      if (this.#random() < 0.5) await this.say(device);
      this.office.codes.add(name);
      await device.syncing.pair(name, name);
      if (this.#random() < 0.7) await device.sync();
    }
    this.weather.fair = false;
  }

  async step(): Promise<void> {
    const device = this.#pick(this.devices);
    const chance = this.#random();
    if (chance < 0.45) await this.say(device);
    else if (chance < 0.5) await this.remove(device);
    else if (chance < 0.7) await this.dieInSync(device);
    else if (chance < 0.8) await Promise.all(this.devices.map((one) => one.sync()));
    else await device.sync();
  }

  /** Say a few things about one of some gaugings, as a page does: it knows what is on its device. */
  async say(device: Device): Promise<void> {
    const gauging = this.#pick(["alder", "quill", "tansy"]);
    for (let left = 1 + Math.floor(this.#random() * 4); left > 0; left--) {
      const there = await device.store.entries(gauging);
      const what = this.#pick(["site/stream", "meter/kind", "channels/1/verticals/v1/depth", "photos/p1"]);
      const heads = fold(there).get(what)?.heads ?? [];
      const value = what === "photos/p1" ? await this.#photo(device) : this.#pick(["1.0", "1.05", null]);
      const made = entry({
        id: `e${this.said.size}`,
        gauging,
        device: device.store.device,
        sequence: 1 + (there.at(-1)?.sequence ?? 0),
        what,
        value,
        ...(heads.length === 0 ? {} : { replaces: heads.map(({ id }) => id) }),
      });
      await device.store.append([made]);
      this.said.set(made.id, made);
    }
  }

  async remove(device: Device): Promise<void> {
    const gone = (await device.store.gaugings()).find(({ whereabouts }) => whereabouts === "on the server");
    if (gone === undefined) return;
    await device.store.removeGauging(gone.id);
    this.counts.removals += 1;
  }

  async dieInSync(device: Device): Promise<void> {
    device.livesFor = 1 + Math.floor(this.#random() * 25);
    await device.sync();
    if (device.livesFor <= 0) this.counts.deaths += 1;
    await device.open();
    await device.syncing.start();
  }

  async end(): Promise<void> {
    this.weather.fair = true;
    for (let round = 0; round < 3; round++) for (const device of this.devices) await device.sync();
  }

  async #photo(device: Device): Promise<{ purpose: string; sha256: string; bytes: number; type: string }> {
    this.counts.photos += 1;
    const bytes = new TextEncoder().encode(`photo ${this.#random()}`).buffer as ArrayBuffer;
    const sha256 = await sha256Of(bytes);
    await device.store.putFile({ sha256, type: "image/jpeg", bytes });
    return { purpose: "other", sha256, bytes: bytes.byteLength, type: "image/jpeg" };
  }

  #pick<T>(from: readonly T[]): T {
    return from[Math.floor(this.#random() * from.length)]!;
  }
}

const contents = (entries: Iterable<Entry>) => [...entries].map(contentOf).sort();

async function isUnited({ office, devices, said }: Journey, name: string): Promise<void> {
  assert.deepEqual(contents(office.arrived), contents(said.values()), `${name}: the server`);
  assert.deepEqual(office.beside, [], name);
  const photos = filesNamed([...said.values()]);
  assert.deepEqual([...office.files.keys()].sort(), [...photos].sort(), `${name}: photos`);
  for (const { store } of devices) {
    for (const summary of await store.gaugings()) {
      const own = await store.entries(summary.id);
      assert.deepEqual(contents(own), contents(office.entries(summary.id)), `${name}: a device`);
      assert.equal(summary.whereabouts, "on the server", name);
    }
  }
}

test(`in ${RUNS} random runs every entry arrives once, and all come to hold the same`, async () => {
  giveNavigator({});
  const counts = { deaths: 0, removals: 0, photos: 0 };
  for (let seed = 1; seed <= RUNS; seed++) {
    const journey = new Journey(seeded(seed));
    try {
      await journey.begin();
      for (let step = 0; step < STEPS; step++) await journey.step();
      await journey.end();
      await isUnited(journey, `seed ${seed}`);
    } finally {
      journey.devices.forEach((device) => device.close());
    }
    for (const name of ["deaths", "removals", "photos"] as const) counts[name] += journey.counts[name];
  }
  for (const count of Object.values(counts)) assert.ok(count >= RUNS / 4, JSON.stringify(counts));
});
