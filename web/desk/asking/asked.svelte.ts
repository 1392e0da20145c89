/** Something that was asked of the office: what came last stays in sight while it is asked again. */

import { sentence } from "../../page/sentence.ts";

export class Asked<T> {
  value: T | null = $state.raw(null);
  /** Why the last answer did not come, in one sentence. */
  trouble: string | null = $state(null);
  asking = $state(false);
  readonly #ask: () => Promise<T>;
  #times = 0;

  /** It is asked at once; `ask` reads nothing reactive. */
  constructor(ask: () => Promise<T>) {
    this.#ask = ask;
    void this.again();
  }

  /** Ask again; of several questions the last one counts. */
  async again(): Promise<void> {
    const time = ++this.#times;
    this.asking = true;
    try {
      const value = await this.#ask();
      if (time !== this.#times) return;
      this.value = value;
      this.trouble = null;
    } catch (error) {
      if (time === this.#times) this.trouble = `${sentence(error)}.`;
    } finally {
      if (time === this.#times) this.asking = false;
    }
  }
}
