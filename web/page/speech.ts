/** Figures as they are called across a stream, and the device's own voice where it has one. */

const DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
const TEENS = [
  "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen",
  "nineteen",
];
const TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/**
 * Return a figure in words, every digit behind the point by itself: 12.6 is "twelve point six",
 * 0.80 is "point eight zero", -0.12 is "minus point one two". What is no figure comes back as it is.
 */
export function spoken(figure: string): string {
  const parts = /^(-?)(\d{1,6})(?:\.(\d+))?$/.exec(figure.trim());
  if (parts === null) return figure;
  const [, sign, whole, behind] = parts as unknown as [string, string, string, string | undefined];
  const before = behind !== undefined && Number(whole) === 0 ? "" : wholeWords(Number(whole));
  const after = behind === undefined ? "" : `point ${[...behind].map((digit) => DIGITS[Number(digit)]).join(" ")}`;
  return [sign === "-" ? "minus" : "", before, after].filter(Boolean).join(" ");
}

/** Return what the recorder says back: "14.5, point eight, one point three two". */
export function readBack(tape: string | null, ...figures: readonly string[]): string {
  return [...(tape === null ? [] : [tape]), ...figures.map(spoken)].join(", ");
}

/** Return a sentence to be spoken, its figures in words: "go to 14.5" → "go to fourteen point five". */
export function aloud(sentence: string): string {
  return sentence.replace(/-?\d+(?:\.\d+)?/g, (figure) => spoken(figure));
}

/** Whether this browser can speak at all; whether there is a voice without signal it does not say. */
export function canSpeak(): boolean {
  return typeof speechSynthesis !== "undefined" && typeof SpeechSynthesisUtterance !== "undefined";
}

/** Speak a sentence; what is still being spoken gives way to it. */
export function speak(sentence: string): void {
  if (!canSpeak()) return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(aloud(sentence));
  said.lang = "en";
  said.rate = 0.9;
  speechSynthesis.speak(said);
}

function wholeWords(whole: number): string {
  if (whole < 10) return DIGITS[whole]!;
  if (whole < 20) return TEENS[whole - 10]!;
  if (whole < 100) {
    const units = whole % 10;
    return TENS[Math.trunc(whole / 10)]! + (units === 0 ? "" : `-${DIGITS[units]}`);
  }
  const [size, word] = whole < 1000 ? [100, "hundred"] : [1000, "thousand"];
  const rest = whole % size;
  return `${wholeWords(Math.trunc(whole / size))} ${word}${rest === 0 ? "" : ` ${wholeWords(rest)}`}`;
}
