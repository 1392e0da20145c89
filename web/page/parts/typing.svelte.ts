/** A text between the first key and its being said: kept while it cannot be said as it stands. */

import { SvelteMap } from "svelte/reactivity";

/** What was typed and not said, by gauging and what; it outlives the screen it was typed on. */
const unsaid = new SvelteMap<string, string>();

/** Whether something typed under one of these keys is still not said. */
export function anyUnsaid(gauging: string, prefixes: readonly string[]): boolean {
  return [...unsaid.keys()].some((key) =>
    prefixes.some((prefix) => key.startsWith(`${gauging} ${prefix}`)),
  );
}

export function unsaidKey(gauging: string, what: string): string {
  return `${gauging} ${what}`;
}

interface TypingOptions {
  /** Where an unsaid text is kept; without it the text goes with the field. */
  readonly keep: () => string | undefined;
  /** What is wrong with a text, in one sentence. */
  readonly fault: (text: string) => string | null;
  /** Say a text that nothing is wrong with, trimmed; "" where it was emptied. */
  readonly say: (text: string) => void;
}

export class Typing {
  readonly #options: TypingOptions;
  #own: string | null = $state(null);
  /** Whether the person has left the field once with this text. */
  #left = $state(false);
  readonly fault: string | null = $derived.by(() => {
    const text = this.text;
    if (text === null) return null;
    return this.#left || this.#own === null ? this.#options.fault(text) : null;
  });

  constructor(options: TypingOptions) {
    this.#options = options;
  }

  /** What is being typed, null where what was said stands. */
  get text(): string | null {
    const key = this.#options.keep();
    return this.#own ?? (key === undefined ? null : (unsaid.get(key) ?? null));
  }

  type(text: string): void {
    this.#own = text;
    const key = this.#options.keep();
    if (key !== undefined) unsaid.set(key, text);
  }

  /** Say what was typed if nothing is wrong with it. */
  settle(): void {
    const text = this.text;
    if (text === null) return;
    this.#left = true;
    if (this.#options.fault(text) !== null) return;
    this.drop();
    this.#options.say(text.trim());
  }

  drop(): void {
    this.#own = null;
    this.#left = false;
    const key = this.#options.keep();
    if (key !== undefined) unsaid.delete(key);
  }
}
