import assert from "node:assert/strict";
import { test } from "node:test";

import { render } from "svelte/server";

import { leavesOf, placesOf } from "./along_floats.ts";
import { cameraFor, HORIZON, TALL, WIDE } from "./along_camera.ts";
import { PERSON, sceneOf } from "./along_scene.ts";
import { inWords as wordsOf, leavesInWords, lengthInWords, signsInWords } from "./along_words.ts";
import ReachPicture from "./ReachPicture.svelte";
import type { FacePlace, SectionView } from "./contract.ts";

const PLACES = 48;
const CLEAR = { brown: false, drift: false, walked_minutes: 20, gauge_before_m: 0.5, gauge_now_m: 0.5 };
const inWords = (one: SectionView): string => wordsOf(one, CLEAR);

/** A smooth section 10 m wide, darkest in the middle; or as changed. */
function section(changes: Partial<SectionView> = {}, place: Partial<FacePlace> = {}): SectionView {
  const face = Array.from({ length: PLACES }, (_, i) => {
    const at = (i + 0.5) / PLACES;
    const dark = i >= 20 && i < 28 ? 4 : 2;
    return { at, dry: false, dark, ripple: 0.001, speed: i === 24 ? 0.6 : 0.5, angle: 0, ...place };
  });
  return {
    ...{ name: "A", along_m: 12, width_m: 10, left_bank: "sloping", right_bank: "sloping" },
    ...{ face, darkest: 6, stones: [], under: [], dead: [], back: [], wood_m: null },
    ...changes,
  };
}

const numbers = (text: string): number[] => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);

test("the tape line lies in the picture from bank to bank, whatever the width", () => {
  for (const width_m of [1.5, 4, 9, 20]) {
    const { tape, person } = sceneOf(section({ width_m }), 1);
    assert.ok(tape[0][0] >= 30 && tape[1][0] <= WIDE - 30);
    assert.ok(tape[0][1] > HORIZON && tape[0][1] < TALL);
    assert.ok(person.x > 0 && person.y - person.tall > 0);
  }
});

test("a person is as tall beside a stream as the stream is wide: a scale", () => {
  const { tape, person } = sceneOf(section({ width_m: 8.5 }), 1);

  assert.ok(Math.abs((tape[1][0] - tape[0][0]) / person.tall - 8.5 / 1.7) < 0.01);
});

test("a section always looks the same for a number, and otherwise for another", () => {
  assert.deepEqual(sceneOf(section(), 7), sceneOf(section(), 7));
  assert.notDeepEqual(sceneOf(section(), 7).streaks, sceneOf(section(), 8).streaks);
});

test("streaks are as long as the water is fast, and turn with it", () => {
  const { tape } = cameraFor(10);
  const lengths = (speed: number): number => {
    const near = sceneOf(section({}, { speed }), 3).streaks.map(({ d }) => numbers(d));
    return near.reduce((sum, [, y, , end]) => sum + (y! - end!), 0) / near.length;
  };
  const turned = sceneOf(section({}, { angle: 20 }), 3).streaks.map(({ d }) => numbers(d));
  const straight = sceneOf(section(), 3).streaks.map(({ d }) => numbers(d));

  assert.ok(tape > 0);
  assert.ok(Math.abs(lengths(0.6) / lengths(0.3) - 2) < 0.1);
  assert.notDeepEqual(turned, straight);
});

test("smooth water has no wavelets, rippled water has, broken water is white", () => {
  const smooth = sceneOf(section({}, { ripple: 0.002 }), 1);
  const rippled = sceneOf(section({}, { ripple: 0.01 }), 1);
  const broken = sceneOf(section({}, { ripple: 0.03 }), 1);

  assert.equal(smooth.wavelets.length + smooth.crests.length, 0);
  assert.ok(rippled.wavelets.length > 100);
  assert.equal(rippled.crests.length, 0);
  assert.ok(broken.crests.length > 40 && broken.wavelets.length > broken.crests.length);
});

test("dead water has no streaks, a stone stands on the tape line, a bar runs along", () => {
  const dead = sceneOf(section({ dead: [[0, 1]], back: [[0, 1]] }), 1);
  const stony = sceneOf(section({ stones: [[0.4, 0.44]] }), 1);
  const braided = sceneOf(section({ stones: [[0.4, 0.6]] }), 1);

  assert.equal(dead.streaks.length, 0);
  assert.equal(dead.swirls.length, 1);
  assert.ok(stony.stones.some(({ y }) => Math.abs(y - stony.tape[0][1]) < 1e-9));
  assert.deepEqual([braided.bars.length, braided.stones.length], [1, 0]);
});

test("what is seen is said, and no depth with it", () => {
  const words = inWords(
    section({ right_bank: "undercut", stones: [[0.2, 0.22], [0.4, 0.6]], dead: [[0, 0.05]], back: [[0, 0.05]] }),
  );

  assert.equal(
    words,
    "The surface is smooth. The current runs straight. It is darkest in the middle and fastest in the " +
      "middle. A dry bar parts the water. One stone stands out. Water runs back at the left edge. " +
      "The left bank slopes into the water, the right one is undercut.",
  );
  assert.doesNotMatch(words, /\d/);
});

test("rough and crooked water is called so", () => {
  const rough = inWords(section({}, { ripple: 0.03, angle: 12 }));

  assert.match(rough, /^Broken water over most of the width. The current runs aslant, towards the right bank./);
  assert.match(inWords(section({}, { ripple: 0.01 })), /rippled over most of the width\./);
});

test("brown water is brown all over, branches drift, wood lies further down", () => {
  const seen = section({ wood_m: 8 });
  const { drift, wood, tape } = sceneOf(seen, 1, true);

  assert.ok(drift.length > 0 && wood.length > 0);
  assert.ok(wood.every((d) => numbers(d)[1]! < tape[0][1]));
  assert.deepEqual([sceneOf(section(), 1).drift, sceneOf(section(), 1).wood], [[], []]);
  assert.match(wordsOf(seen, { brown: true, drift: true }), /brown all over .* Branches drift .* wood lies across/);
});

test("what shows before anybody goes in is said in the unit of the tape", () => {
  const high = { ...CLEAR, brown: true, drift: true, gauge_before_m: 0.4 };

  assert.deepEqual(signsInWords({ signs: CLEAR, sections: [section()] }, "m"), [
    "The staff gauge showed 0.50 m when you came, and 0.50 m after 20 minutes along the reach.",
    "The water is clear: its bed is seen where it is shallow.",
    "Nothing lies across the water below.",
  ]);
  assert.deepEqual(signsInWords({ signs: high, sections: [section({ wood_m: 6.1 })] }, "ft"), [
    "The staff gauge showed 1.31 ft when you came, and 1.64 ft after 20 minutes along the reach.",
    "The water is brown: its bed is not seen.",
    "Branches come down in it.",
    "Wood lies across the water 20 ft below section A.",
  ]);
});

test("how tall somebody is, and over which way leaves drift, is said in the unit of the tape", () => {
  // 1.7 m; a stream of 10 m has its tape 9 m away, the front of its picture 0.49 and the end 2.2 of that.
  assert.deepEqual([lengthInWords(PERSON, "m"), lengthInWords(PERSON, "ft")], ["1.7 m", "5.6 ft"]);
  assert.match(leavesInWords({ width_m: 10 }, "m"), /drift for 20 s\. It is 4\.6 m from the front .* 10\.8 m from the tape/);
  assert.match(leavesInWords({ width_m: 10 }, "ft"), /15\.1 ft from the front .* 35\.4 ft from the tape/);
});

test("leaves drift as far as the water goes in the time, and back where it runs back", () => {
  const { near, tape } = cameraFor(10);
  const away = (seen: SectionView, seconds: number): number[] =>
    placesOf(seen, leavesOf(seen, 2), seconds).map(({ y }) => ((TALL - HORIZON) / (y - HORIZON)) * near * 0.995);
  const moved = (speed: number): number => {
    const seen = section({}, { speed });
    const later = away(seen, 1);
    const all = away(seen, 0).map((before, i) => later[i]! - before);
    return all.sort((a, b) => a - b)[Math.floor(all.length / 2)]!;
  };

  assert.ok(tape > near);
  assert.ok(Math.abs(moved(0.5) - 0.5) < 0.05, String(moved(0.5)));
  assert.ok(Math.abs(moved(-0.2) + 0.2) < 0.05, String(moved(-0.2)));
  assert.equal(leavesOf(section({}, { dry: true }), 2).length, 0);
});

test("from above, the tape looks square to the flow where it is", () => {
  const angle = 12;
  const seen = section({}, { angle });
  const { body } = render(ReachPicture, { props: { sections: [seen], signs: CLEAR, chosen: "A", skew: -angle, unit: "m" } });
  const [, turn] = body.match(/rotate\((-?[\d.]+) /)!;
  const [, right, down] = body.match(/class="flow[^>]* d="M [\d.]+ [\d.]+ l (-?[\d.]+) (-?[\d.]+)"/)!;
  const tape = [Math.cos((Number(turn) * Math.PI) / 180), Math.sin((Number(turn) * Math.PI) / 180)];

  assert.ok(Number(down) < 0);
  assert.ok(Math.abs(tape[0]! * Number(right) + tape[1]! * Number(down)) < 1e-6 * Math.abs(Number(down)));
});
