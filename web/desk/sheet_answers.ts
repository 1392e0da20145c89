/** What a person says about a sheet, so that nothing has to be guessed: merged, changed, told. */

import type { SheetAnswers, Told } from "./asking/answers.ts";

type Columns = Readonly<Record<string, readonly string[]>>;
type Units = Readonly<Record<string, string>>;

/** Return answers with others on top; columns and units are merged by their names. */
export function merged(answers: SheetAnswers, more: SheetAnswers): SheetAnswers {
  return {
    ...answers,
    ...more,
    ...merge("columns", answers, more),
    ...merge("units", answers, more),
  };
}

/** Return answers in which the column with a letter holds this; "" leaves it to the reader again. */
export function withColumn(answers: SheetAnswers, letter: string, means: string): SheetAnswers {
  const before = (answers["columns"] ?? {}) as Columns;
  const columns: Record<string, readonly string[]> = {};
  for (const [name, letters] of Object.entries(before)) {
    const others = letters.filter((one) => one !== letter);
    if (others.length > 0) columns[name] = others;
  }
  if (means !== "") columns[means] = [...(columns[means] ?? []), letter];
  return withMember(answers, "columns", columns);
}

/** Return answers in which a quantity is in this unit; "" leaves it to the sheet again. */
export function withUnit(answers: SheetAnswers, quantity: string, unit: string): SheetAnswers {
  const { [quantity]: _, ...others } = (answers["units"] ?? {}) as Units;
  return withMember(answers, "units", unit === "" ? others : { ...others, [quantity]: unit });
}

/** Return answers in which a question is answered so; "" takes the answer back. */
export function withChoice(answers: SheetAnswers, question: string, choice: string): SheetAnswers {
  const { [question]: _, ...others } = answers;
  return choice === "" ? others : { ...others, [question]: choice };
}

/** Return what was said of a column, "" where nothing was. */
export function saidOf(answers: SheetAnswers, letter: string): string {
  const columns = Object.entries((answers["columns"] ?? {}) as Columns);
  return columns.find(([, letters]) => letters.includes(letter))?.[0] ?? "";
}

/** Return each answer in words, such as "depth: column C". */
export function answerWords(answers: SheetAnswers): string[] {
  return Object.entries(answers).flatMap(([name, value]) => {
    if (name === "columns") {
      return Object.entries(value as Columns).map(([what, letters]) => `${what}: column ${letters.join(", ")}`);
    }
    if (name === "units") return Object.entries(value as Units).map(([what, unit]) => `${what} in ${unit}`);
    return `${name.replaceAll("_", " ")}: ${String(value)}`;
  });
}

/** Return what has a unit of what a column holds: velocity for velocity@0.2. */
export function quantityOf(means: string | null): string {
  return (means ?? "").split("@")[0]!;
}

function merge(member: "columns" | "units", a: SheetAnswers, b: SheetAnswers): SheetAnswers {
  if (a[member] === undefined && b[member] === undefined) return {};
  return { [member]: { ...(a[member] as object | undefined), ...(b[member] as object | undefined) } };
}

function withMember(answers: SheetAnswers, member: string, value: object): SheetAnswers {
  const { [member]: _, ...others } = answers;
  return Object.keys(value).length === 0 ? others : { ...others, [member]: value };
}

/** Return where in a file something stands, such as "row 3, column B"; "" where that is not known. */
export function whereOf({ sheet, row, column }: Omit<Told, "message">): string {
  return [sheet && `sheet ${sheet}`, row && `row ${row}`, column && `column ${column}`].filter(Boolean).join(", ");
}

/** Return what is wrong with a file, behind its place. */
export function placed(told: Told): string {
  const where = whereOf(told);
  return where === "" ? told.message : `${where}: ${told.message}`;
}
