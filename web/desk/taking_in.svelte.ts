/** Sheets on their way into the archive: looked at one after another, asked about, and taken in. */

import { sentence } from "../page/sentence.ts";
import type { Looked, SheetAnswers, Taken } from "./asking/answers.ts";
import type { Office } from "./asking/office.ts";

/** waiting and looking come to looked or failed; taking comes to taken or failed. */
export type SheetStep = "waiting" | "looking" | "looked" | "taking" | "taken" | "failed";

export class SheetFile {
  readonly file: File;
  readonly key: string;
  step: SheetStep = $state("waiting");
  answers: SheetAnswers = $state.raw({});
  looked: Looked | null = $state.raw(null);
  taken: Taken | null = $state.raw(null);
  /** Why the last step failed, in one sentence. */
  trouble: string | null = $state(null);
  /** Whether it holds something that can be taken in as it is understood now. */
  readonly ready: boolean = $derived(
    this.step === "looked" && this.looked !== null && this.questions === 0 && isWhole(this.looked),
  );

  /** Whether part of it can be taken in as it is understood now. */
  readonly usable: boolean = $derived(
    this.step === "looked" &&
      (this.ready || (this.looked?.gaugings ?? []).some(({ verticals, faults }) => verticals > 0 && faults.length === 0)),
  );
  /** Whether nothing in it can be read and no answer would help. */
  readonly unreadable: boolean = $derived(this.step === "looked" && !this.usable && this.questions === 0);

  constructor(file: File, key: string) {
    this.file = file;
    this.key = key;
  }

  /** How many questions are open about it. */
  get questions(): number {
    return this.looked?.questions.length ?? 0;
  }
}

/** Whether every gauging of a file could be read, or at least one and nothing was refused. */
function isWhole({ kind, gaugings }: Looked): boolean {
  if (kind === "survey" || kind === "journal") return true;
  const faults = gaugings.some((one) => one.faults.length > 0);
  return !faults && gaugings.some((one) => one.discharge_m3s !== null || one.verticals > 0);
}

export class TakingIn {
  files: readonly SheetFile[] = $state.raw([]);
  readonly #office: Pick<Office, "look" | "take">;
  #numbers = 0;
  /** One request follows the other, so that a season of sheets does not crowd the server. */
  #last: Promise<void> = Promise.resolve();

  constructor(office: Pick<Office, "look" | "take">) {
    this.#office = office;
  }

  /** Add files and look at them; resolves when all were looked at. */
  add(files: Iterable<File>): Promise<void> {
    const added = [...files].map((file) => new SheetFile(file, `f${++this.#numbers}`));
    this.files = [...this.files, ...added];
    for (const one of added) this.#enqueue(() => this.#look(one));
    return this.#last;
  }

  /** Look at a file again, by other answers. */
  answer(one: SheetFile, answers: SheetAnswers): Promise<void> {
    one.answers = answers;
    this.#enqueue(() => this.#look(one));
    return this.#last;
  }

  take(ones: readonly SheetFile[]): Promise<void> {
    for (const one of ones) this.#enqueue(() => this.#take(one));
    return this.#last;
  }

  /** Leave a file aside; what is taken in stays in the archive. */
  remove(one: SheetFile): void {
    this.files = this.files.filter((other) => other !== one);
  }

  #enqueue(act: () => Promise<void>): void {
    this.#last = this.#last.then(act);
  }

  async #look(one: SheetFile): Promise<void> {
    if (!this.files.includes(one) || one.step === "taken") return;
    one.step = "looking";
    try {
      one.looked = await this.#office.look(one.file, one.answers);
      one.trouble = null;
      one.step = "looked";
    } catch (error) {
      one.trouble = `${sentence(error)}.`;
      one.step = "failed";
    }
  }

  async #take(one: SheetFile): Promise<void> {
    if (!this.files.includes(one) || one.step === "taken") return;
    one.step = "taking";
    try {
      one.taken = await this.#office.take(one.file, one.answers);
      one.trouble = null;
      one.step = "taken";
    } catch (error) {
      one.trouble = `${sentence(error)}.`;
      one.step = "failed";
    }
  }
}

export interface TakenSum {
  readonly files: number;
  readonly seconds: number;
  readonly gaugings: number;
  readonly added: number;
  readonly entries: number;
  readonly rows: { readonly used: number; readonly remark: number; readonly refused: number };
  /** How many carried a total, and of how many the rule is known that it follows. */
  readonly filed: number;
  readonly explained: number;
  readonly faults: number;
}

/** Return what all files came to. */
export function sumOf(taken: readonly Taken[]): TakenSum {
  const sum = (of: (one: Taken) => number) => taken.reduce((all, one) => all + of(one), 0);
  return {
    files: taken.length,
    seconds: sum((one) => one.seconds),
    gaugings: sum((one) => one.gaugings.length),
    added: sum((one) => one.added.length),
    entries: sum((one) => one.entries),
    rows: {
      used: sum((one) => one.rows.used),
      remark: sum((one) => one.rows.remark),
      refused: sum((one) => one.rows.refused),
    },
    filed: sum((one) => one.filed.length),
    explained: sum((one) => one.filed.filter(({ rule }) => rule !== null).length),
    faults: sum((one) => one.faults.length),
  };
}
