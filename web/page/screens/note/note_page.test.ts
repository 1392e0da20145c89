/** Every text that the engine composes for a note stands on the page. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { render } from "svelte/server";

import type { Cell, Kind, NoteReply, Part } from "../../note_view.ts";
import NotePage from "./NotePage.svelte";

const cell = (text: string, kind: Kind = "", lead = ""): Cell => ({ text, kind, lead });
const part = (title: string, more: Partial<Part> = {}): Part => ({
  title,
  pictures: [],
  sentences: [],
  tables: [],
  below: [],
  points: [],
  fine: false,
  narrow: false,
  ...more,
});
const table = (name: string) => ({
  name,
  columns: [
    { head: `${name} head`, unit: `${name} unit`, align: "left" as const, weight: 0 },
    { head: `${name} second`, unit: "", align: "right" as const, weight: 1 },
  ],
  rows: [
    [cell(`${name} plain`), cell(`${name} open`, "open")],
    [cell(`${name} strong`, "strong"), cell(`${name} struck`, "struck", `${name} lead`)],
    [cell(`${name} fine`, "fine", `${name} fine lead`), cell(`${name} last`)],
  ],
  totals: [[cell(`${name} total`), cell(`${name} sum`, "strong")]],
  whole: true,
});

const REPLY: NoteReply = {
  content: {
    title: "Title",
    kind: "Kind of note",
    stream: "Alder Fork",
    site: "above the footbridge",
    date: { name: "Date", value: "2026-07-14", open: false },
    headline: {
      name: "Discharge",
      discharge: "12.3 ft³/s",
      also: "0.348 m³/s",
      uncertainty: "± 0.9 ft³/s",
      uncertainty_basis: "by a method",
      quality: { name: "Quality:", value: "good", open: false },
      facts: [{ name: "Width", value: "23.9 ft", open: false }],
      warnings: ["First warning", "Second warning"],
    },
    groups: [{ title: "Where", facts: [{ name: "Position", value: "not recorded", open: true }] }],
    map: { key: "map", description: "Map with AF-01 at latitude 45.6", caption: "WGS 84; north is up" },
    parts: [
      part("Section", {
        pictures: [{ key: "section 1", description: "Two verticals", caption: "Hatched: above 5 %." }],
      }),
      part("Tables", { tables: [table("one"), table("two")], below: ["below one", "below two"] }),
      part("Assumed", { points: ["point one", "point two"], narrow: true }),
      part("Remarks", { sentences: ["first line\nsecond line"], narrow: true }),
      part("Fine print", { sentences: ["small"], fine: true }),
    ],
    signatures_title: "Signatures",
    signatures: ["Measured by", "Checked by"],
    signature_fields: ["name, signature, date"],
    running: "Alder Fork · Bankside",
    day: "2026-07-14",
  },
  drawing: {
    units: { length: "ft", depth: "ft", velocity: "ft/s" },
    limits: { aim: 5, limit: 10 },
    rows: [
      {
        key: "section 1",
        tape: "tape (ft), seen facing downstream",
        channels: [
          {
            title: "Channel 1, main arm",
            banks: ["left", "right"],
            mirrored: false,
            unmeasured: [false, false],
            verticals: [
              { tape: 2, depth: 0, velocity: 0, measured: true, fractions: [] },
              { tape: 5, depth: 1.2, velocity: 0.9, measured: true, fractions: [0.6] },
              { tape: 9, depth: 0, velocity: 0, measured: true, fractions: [] },
            ],
            panels: [{ start: 3.5, end: 7, share: 100, mark: "**" }],
          },
        ],
      },
    ],
  },
};

/** What no person reads. */
const NOT_SHOWN = new Set(["key", "align", "day", "mark"]);

function texts(value: unknown, name = ""): string[] {
  if (typeof value === "string") return NOT_SHOWN.has(name) ? [] : value.split("\n");
  if (Array.isArray(value)) return value.flatMap((one) => texts(one, name));
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, one]) => texts(one, key));
}

function page(reply: NoteReply): string {
  return render(NotePage, { props: reply }).body.replaceAll(/<!--.*?-->/g, "").replaceAll("&amp;", "&");
}

test("all words of the content and of its drawing are on the page", () => {
  const shown = page(REPLY);
  const { title: _, ...content } = REPLY.content;
  for (const text of [...texts(content), ...texts(REPLY.drawing.rows)].filter((one) => one !== "")) {
    assert.ok(shown.includes(text), `“${text}” is not on the page`);
  }
});

test("what is struck, strong or open is so to screen readers and on paper alike", () => {
  const shown = page(REPLY);
  assert.match(shown, /<s[^>]*>one struck<\/s>/);
  assert.match(shown, /<strong[^>]*>one strong<\/strong>/);
  assert.match(shown, /<span class="open[^>]*>one open<\/span>/);
});

test("a picture that cannot be drawn is told in words", () => {
  const shown = page({ ...REPLY, drawing: { ...REPLY.drawing, rows: [] } });
  assert.match(shown, /<p[^>]*>Two verticals<\/p>/);
});

test("headings go down one level at a time", () => {
  const levels = [...page(REPLY).matchAll(/<h([1-6])/g)].map(([, level]) => Number(level));
  assert.equal(levels.filter((level) => level === 1).length, 1);
  levels.reduce((before, level) => {
    assert.ok(level <= before + 1, `h${level} after h${before}`);
    return level;
  });
});
