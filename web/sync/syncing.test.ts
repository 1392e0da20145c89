import assert from "node:assert/strict";
import { after, test } from "node:test";

import type { Entry } from "../journal/entry.ts";
import type { StoredFile } from "../journal/store_contract.ts";
import { sha256Of } from "../journal/digest.ts";
import { Device } from "../testing/devices.ts";
import { FakeOffice } from "../testing/fake_office.ts";
import { entry, GAUGING } from "../testing/journal.ts";
import { fieldKept } from "./field_kept.ts";
import { officeKept } from "./office_kept.ts";
import type { Fetch } from "./request.ts";

const devices: Device[] = [];
after(() => devices.forEach((device) => device.close()));

async function device(fetched: Fetch): Promise<Device> {
  const opened = await new Device(fetched).open();
  devices.push(opened);
  return opened;
}

async function paired(office: FakeOffice, fetched: Fetch = office.fetch): Promise<Device> {
  const phone = await device(fetched);
  office.codes.add("CODE");
  await pairAndSync(phone, "CODE", "phone of I. Marrow");
  return phone;
}

async function pairAndSync(phone: Device, code: string | null, name: string): Promise<void> {
  await phone.syncing.pair(code, name);
  await phone.sync();
}

const by = (phone: Device, changed: Partial<Entry> & { readonly id: string }): Entry =>
  entry({ device: phone.store.device, ...changed });

async function photo(shows: string): Promise<StoredFile> {
  const bytes = new TextEncoder().encode(`a picture of ${shows}`).buffer as ArrayBuffer;
  return { sha256: await sha256Of(bytes), type: "image/jpeg", bytes };
}

const where = async (phone: Device) => (await phone.store.gaugings())[0]!.whereabouts;
const trouble = (phone: Device) => phone.last("trouble")?.trouble?.message;

test("a device without a pairing asks the server for nothing", async () => {
  const office = new FakeOffice();
  const phone = await device(office.fetch);
  await phone.store.append([by(phone, { id: "a" })]);
  await phone.syncing.start();
  await phone.sync();
  assert.deepEqual(office.asked, []);
});

test("what was said before and after the pairing is on the server, and said to be", async () => {
  const office = new FakeOffice();
  const phone = await device(office.fetch);
  await phone.store.append([by(phone, { id: "a" })]);
  office.codes.add("CODE");
  await pairAndSync(phone, "CODE", "phone of I. Marrow");
  assert.equal(await where(phone), "on the server");
  await phone.store.append([by(phone, { id: "b", sequence: 2 })]);
  assert.equal(await where(phone), "here only");
  await phone.sync();
  assert.deepEqual(office.arrived.map(({ id }) => id), ["a", "b"]);
  assert.equal(await where(phone), "on the server");
  assert.deepEqual((await officeKept(phone.store))?.you, { name: "phone of I. Marrow", role: "crew" });
});

test("a code that is void is told in the server's words, and nothing is kept", async () => {
  const phone = await device(new FakeOffice().fetch);
  await assert.rejects(phone.syncing.pair("OLD", "phone"), /The code OLD is not valid any more\./);
  assert.equal(await officeKept(phone.store), null);
});

test("a host without a server of an office is none, whatever it answers", async () => {
  const page = () => new Response("<!doctype html>", { headers: { "Content-Type": "text/html" } });
  for (const answer of [new Response("", { status: 404 }), page(), new Response("{}")]) {
    const phone = await device(async () => answer);
    assert.equal(await phone.syncing.about(), null);
  }
  const phone = await device(() => Promise.reject(new TypeError("no network")));
  await assert.rejects(phone.syncing.about(), /cannot be reached/);
});

test("an entry is sent in parts of 500 and 4 MB", async () => {
  const office = new FakeOffice();
  const phone = await paired(office);
  const many = Array.from({ length: 1200 }, (_, i) => by(phone, { id: `e${i}`, sequence: i + 1 }));
  const large = ["x", "y"].map((id, i) =>
    by(phone, { id, gauging: "large", sequence: i + 1, what: "remarks", value: id.repeat(2_500_000) }),
  );
  await phone.store.append([...many, ...large]);
  office.asked.length = 0;
  await phone.sync();
  const parts = office.asked.filter(({ path }) => path === "entries");
  assert.deepEqual(parts.map(({ json }) => (json["entries"] as Entry[]).length), [500, 500, 201, 1]);
  assert.equal(office.arrived.length, 1202);
});

test("a gauging with a photo is on the server only with the photo", async () => {
  const office = new FakeOffice();
  let noPhotos = true;
  const phone = await paired(office, (address, options) =>
    noPhotos && options.method === "PUT" ? Promise.reject(new TypeError("lost")) : office.fetch(address, options),
  );
  const [own, elsewhere] = [await photo("upstream"), await photo("downstream")];
  await phone.store.putFile(own);
  await phone.store.append([
    by(phone, { id: "a" }),
    by(phone, { id: "p", sequence: 2, what: "photos/1", value: { sha256: own.sha256 } }),
  ]);
  await phone.sync();
  assert.match(trouble(phone)!, /cannot be reached/);
  assert.deepEqual(office.arrived.map(({ id }) => id), ["a", "p"]);
  assert.deepEqual((await phone.store.gaugings())[0]!.waiting, { entries: 0, photos: 1 });
  noPhotos = false;
  await phone.sync();
  assert.deepEqual(office.files.get(own.sha256), { type: own.type, bytes: own.bytes });
  assert.equal(await where(phone), "on the server");
  const other = by(phone, { id: "q", sequence: 3, what: "photos/2", value: { sha256: elsewhere.sha256 } });
  await phone.store.append([other]);
  await phone.sync();
  assert.equal(await where(phone), "here only");
  assert.equal(phone.last("awaited")?.photos, 1);
  office.files.set(elsewhere.sha256, elsewhere);
  await phone.sync();
  assert.equal(await where(phone), "on the server");
});

test("what one device says comes to the other, the whole gauging with it", async () => {
  const office = new FakeOffice();
  const first = await paired(office);
  await first.store.append([by(first, { id: "a" })]);
  await first.sync();
  const second = await paired(office);
  assert.deepEqual(await second.store.gaugings(), []);
  await first.store.append([by(first, { id: "b", sequence: 2, value: "Quill Brook" })]);
  await first.sync();
  await second.sync();
  assert.deepEqual((await second.store.entries(GAUGING)).map(({ id }) => id), ["a", "b"]);
  assert.equal(await where(second), "on the server");
});

test("a gauging that both held before the pairing is united", async () => {
  const office = new FakeOffice();
  const [first, second] = [await device(office.fetch), await device(office.fetch)];
  const common = by(first, { id: "a" });
  await first.store.append([common, by(first, { id: "b", sequence: 2 })]);
  await second.store.append([common, by(second, { id: "c", sequence: 2 })]);
  for (const phone of [first, second]) {
    office.codes.add("CODE");
    await pairAndSync(phone, "CODE", "phone");
  }
  await first.sync();
  assert.deepEqual(await first.store.entries(GAUGING), await second.store.entries(GAUGING));
  assert.equal(office.arrived.length, 3);
});

test("an entry that differs under its id stands on both sides and is told", async () => {
  const office = new FakeOffice();
  const first = await paired(office);
  const second = await paired(office);
  await first.store.append([by(first, { id: "a", value: "Alder Fork" })]);
  await first.sync();
  await second.store.append([by(second, { id: "a", value: "Tansy Run" })]);
  await second.sync();
  assert.deepEqual(office.arrived.map(({ value }) => value), ["Alder Fork"]);
  assert.deepEqual(office.beside.map(({ value }) => value), ["Tansy Run"]);
  assert.deepEqual((await second.store.entries(GAUGING)).map(({ value }) => value), ["Tansy Run"]);
  assert.match((await officeKept(second.store))!.stuck["a"]!.said, /another content/);
  assert.equal(await where(second), "here only");
});

test("a refused entry keeps none of the others, and is tried again when somebody asks", async () => {
  const office = new FakeOffice();
  const phone = await paired(office);
  office.refuses.set("remarks", "Remarks must be shorter.");
  await phone.store.append([by(phone, { id: "a", what: "remarks" }), by(phone, { id: "b", sequence: 2 })]);
  await phone.syncing.wake();
  assert.deepEqual(office.arrived.map(({ id }) => id), ["b"]);
  assert.equal((await officeKept(phone.store))!.stuck["a"]!.said, "Remarks must be shorter.");
  const pushes = () => office.asked.filter(({ path }) => path === "entries").length;
  const before = pushes();
  await phone.syncing.wake();
  assert.equal(pushes(), before);
  office.refuses.clear();
  await phone.syncing.syncNow();
  assert.equal(await where(phone), "on the server");
  assert.deepEqual((await officeKept(phone.store))!.stuck, {});
});

test("a revoked device is told, keeps everything, and asks no more by itself", async () => {
  const office = new FakeOffice();
  const phone = await paired(office);
  await phone.store.append([by(phone, { id: "a" })]);
  office.tokens.clear();
  await phone.syncing.wake();
  assert.match(trouble(phone)!, /does not let this device in/);
  assert.equal((await officeKept(phone.store))!.revoked, true);
  const asked = office.asked.length;
  await phone.syncing.wake();
  assert.equal(office.asked.length, asked);
  assert.equal((await phone.store.entries(GAUGING)).length, 1);
  office.codes.add("CODE");
  await pairAndSync(phone, "CODE", "phone");
  assert.equal(await where(phone), "on the server");
});

test("to be unpaired gives the token back and keeps every gauging", async () => {
  const office = new FakeOffice();
  const phone = await paired(office);
  await phone.store.append([by(phone, { id: "a" })]);
  await phone.syncing.unpair();
  assert.equal(office.tokens.size, 0);
  assert.equal(await officeKept(phone.store), null);
  await phone.sync();
  assert.deepEqual(office.arrived, []);
  assert.equal((await phone.store.entries(GAUGING)).length, 1);
});

test("what is said to be on one server is not said to be on the next", async () => {
  const [first, second] = [new FakeOffice(), new FakeOffice()];
  let office = first;
  const phone = await paired(first, (address, options) => office.fetch(address, options));
  await phone.store.append([by(phone, { id: "a" })]);
  await phone.sync();
  await phone.syncing.unpair();
  office = second;
  second.codes.add("CODE");
  second.refuses.set("site/stream", "Not here.");
  await pairAndSync(phone, "CODE", "phone");
  assert.equal(await where(phone), "here only");
});

test("an archive that was put back from a backup gets again what it lost", async () => {
  for (const [kept, since] of [[1, 0], [1, 5]] as const) {
    const office = new FakeOffice();
    const phone = await paired(office);
    const entries = ["a", "b", "c"].map((id, i) => by(phone, { id, sequence: i + 1 }));
    await phone.store.append(entries);
    await phone.sync();
    office.lineage = "line-2";
    const others = Array.from({ length: since }, (_, i) => entry({ id: `o${i}`, gauging: "quill", device: "b" }));
    office.arrived = [...office.arrived.slice(0, kept), ...others];
    await phone.sync();
    assert.deepEqual(office.entries(GAUGING).map(({ id }) => id), ["a", "b", "c"]);
    assert.ok((await phone.store.gaugings()).every(({ whereabouts }) => whereabouts === "on the server"));
    assert.equal((await phone.store.gaugings()).length, since === 0 ? 1 : 2);
    assert.equal((await officeKept(phone.store))!.lineage, "line-2");
  }
});

test("a verdict that came from the office is not sent back to it, after another pairing either", async () => {
  const office = new FakeOffice();
  const phone = await paired(office);
  await phone.store.append([by(phone, { id: "a" })]);
  await phone.sync();
  const value = { verdict: "approved", by: "R. Voss", state: "x" };
  office.arrived.push(entry({ id: "r", device: "desk", sequence: 2, what: "review", value }));
  await phone.sync();
  await phone.syncing.unpair();
  office.codes.add("CODE");
  await pairAndSync(phone, "CODE", "phone");
  assert.equal(await where(phone), "on the server");
  assert.deepEqual((await officeKept(phone.store))!.stuck, {});
});

test("where nobody has to sign in no code is typed", async () => {
  const office = new FakeOffice();
  office.signIn = false;
  const phone = await device(office.fetch);
  await phone.store.append([by(phone, { id: "a" })]);
  await pairAndSync(phone, null, "laptop");
  assert.equal(await where(phone), "on the server");
  assert.equal((await officeKept(phone.store))!.you.role, "crew");
});

test("a server without an archive is no office", async () => {
  const office = new FakeOffice();
  office.archive = null;
  assert.equal(await (await device(office.fetch)).syncing.about(), null);
});

test("a gauging that was removed comes back only where it is sent back, and then whole", async () => {
  const office = new FakeOffice();
  const phone = await paired(office);
  await phone.store.append([by(phone, { id: "a" }), by(phone, { id: "b", sequence: 2 })]);
  await phone.sync();
  await phone.store.removeGauging(GAUGING);
  const review = (id: string, verdict: string) =>
    entry({ id, device: "desk", sequence: 3, what: "review", value: { verdict, by: "R. Voss", state: "x" } });
  office.arrived.push(review("r", "approved"));
  await phone.sync();
  assert.deepEqual(await phone.store.gaugings(), []);
  office.arrived.push({ ...review("s", "sent back"), reason: "No second stage." });
  await phone.sync();
  assert.deepEqual((await phone.store.entries(GAUGING)).map(({ id }) => id), ["a", "b", "r", "s"]);
});

test("a sign-in page of the network is told as such, and nothing is taken for sent", async () => {
  const office = new FakeOffice();
  let portal = false;
  const phone = await paired(office, async (address, options) =>
    portal ? new Response("<html>") : office.fetch(address, options),
  );
  await phone.store.append([by(phone, { id: "a" })]);
  portal = true;
  await phone.sync();
  assert.match(trouble(phone)!, /perhaps this network asks for a sign-in/);
  assert.equal(await where(phone), "here only");
});

test("what a device takes along is asked for by its tag and kept for work offline", async () => {
  const office = new FakeOffice();
  office.field = {
    surveys: [
      {
        id: "s1",
        name: "Summer",
        sites: [
          { id: "af1", stream: "Alder Fork", name: "footbridge", position: { lon: -122, lat: 47 } },
          { id: "qb1", stream: "Quill Brook", name: "mouth", label: "QB-1" },
        ],
      },
    ],
    sites: [
      { id: "af1", stream: "Alder Fork", name: "footbridge", last_visit: null },
      {
        id: "qb1",
        stream: "Quill Brook",
        name: "mouth",
        last_visit: { id: "g1", day: "2026-06-01", discharge_m3s: 0.6, record: { format: "x" } },
      },
    ],
    rule_sets: [],
  };
  const phone = await paired(office);
  const told = () => phone.told.filter(({ kind }) => kind === "field").length;
  assert.equal(told(), 1);
  const { surveys, visits } = phone.last("field")!.field;
  assert.deepEqual(surveys[0]!.sites[0]!.position, { lon: -122, lat: 47 });
  assert.equal(surveys[0]!.sites[1]!.label, "QB-1");
  assert.deepEqual(visits, { qb1: { id: "g1", day: "2026-06-01", record: { format: "x" } } });
  assert.deepEqual(await fieldKept(phone.store), { surveys, visits });
  await phone.sync();
  assert.equal(told(), 1);
  assert.equal(office.asked.filter(({ path, etag }) => path === "field" && etag !== null).length, 1);
});

test("it runs by itself, later after each failure, and at once where there is a reason", async () => {
  const office = new FakeOffice();
  let reachable = true;
  const phone = await paired(office, (address, options) =>
    reachable ? office.fetch(address, options) : Promise.reject(new TypeError("no network")),
  );
  const pauses = () => phone.pauses.map((ms) => ms / 1000);
  assert.deepEqual(pauses(), [225]);
  reachable = false;
  for (let tries = 0; tries < 8; tries++) await phone.syncing.wake();
  assert.deepEqual(pauses().slice(1), [3.75, 7.5, 15, 30, 60, 120, 225, 225]);
  reachable = true;
  await phone.syncing.wake();
  assert.equal(trouble(phone), undefined);
  assert.equal(pauses().at(-1), 225);
  phone.mayRun = false;
  const asked = office.asked.length;
  await phone.syncing.wake();
  assert.equal(office.asked.length, asked);
  await phone.syncing.syncNow();
  assert.ok(office.asked.length > asked);
});

test("a reading that is being saved goes before what sync reads and writes", async () => {
  const office = new FakeOffice();
  const phone = await paired(office);
  await phone.store.append([by(phone, { id: "a" })]);
  office.arrived.push(entry({ id: "x", gauging: "quill", device: "tablet" }));
  let saved: () => void = () => undefined;
  phone.quiet = new Promise((resolve) => (saved = resolve));
  phone.calls.length = 0;
  const syncing = phone.sync();
  await new Promise((resolve) => setTimeout(resolve, 20));
  assert.deepEqual(phone.calls, ["setting"]);
  saved();
  await syncing;
  assert.deepEqual(phone.calls.filter((name) => name === "takeInWhole"), ["takeInWhole", "takeInWhole"]);
});
