/** What the keys of a keyboard do while readings are taken; the screen lists them for people. */

import type { Key } from "./typed.ts";

export type Act =
  | "enter"
  | "cancel"
  | "count"
  | "take back"
  | "other"
  | "dry"
  | "sounding"
  | "again"
  | "insert"
  | "go"
  | "correct";

export const LETTERS: readonly { readonly letter: string; readonly act: Act; readonly words: string }[] = [
  { letter: "T", act: "count", words: "count down, from the start again if it runs" },
  { letter: "U", act: "take back", words: "take back what was said last" },
  { letter: "O", act: "other", words: "other things" },
  { letter: "G", act: "go", words: "go to another tape position" },
  { letter: "I", act: "insert", words: "insert a vertical" },
  { letter: "R", act: "again", words: "read the last point again" },
  { letter: "D", act: "dry", words: "dry here" },
  { letter: "S", act: "sounding", words: "sounding only: a depth without a velocity" },
  { letter: "C", act: "correct", words: "correct something" },
];

export type Pressed = { readonly key: Key } | { readonly act: Act } | null;

/** Return what a key of the keyboard means, null for nothing of ours. */
export function meaning(event: Pick<KeyboardEvent, "key" | "ctrlKey" | "altKey" | "metaKey">): Pressed {
  if (event.ctrlKey || event.altKey || event.metaKey) return null;
  const { key } = event;
  if (/^[0-9]$/.test(key)) return { key: key as Key };
  if (key === "." || key === ",") return { key: "." };
  if (key === "-") return { key: "-" };
  if (key === "Backspace") return { key: "back" };
  if (key === "Enter") return { act: "enter" };
  if (key === "Escape") return { act: "cancel" };
  const letter = LETTERS.find((one) => one.letter === key.toUpperCase());
  return letter ? { act: letter.act } : null;
}
