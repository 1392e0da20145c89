/** What came to this device from the file of a gauging, in sentences. */

import type { Imported } from "../journal/import.ts";

export function importedWords(file: string, imported: Imported): string {
  const { added, entries, missing, unkept } = imported;
  const came =
    added === 0 ? "all its entries were here already" : `${added} of its ${entries} entries are new here`;
  const sentences = [`${file}: ${came}.`];
  const full = unkept.filter(({ kind }) => kind === "full").length;
  if (full > 0) {
    sentences.push(
      `${full} of its photos ${full === 1 ? "has" : "have"} no room on this device and ` +
        `${full === 1 ? "was" : "were"} not kept: keep the file, make room, then import it again.`,
    );
  }
  const others = unkept.filter(({ kind }) => kind !== "full");
  for (const message of new Set(others.map((trouble) => trouble.message))) {
    const count = others.filter((trouble) => trouble.message === message).length;
    sentences.push(`${count} of its photos ${count === 1 ? "was" : "were"} not kept. ${message}`);
  }
  if (missing > 0) {
    sentences.push(`${missing} of its photos ${missing === 1 ? "is" : "are"} not in the file.`);
  }
  return sentences.join(" ");
}
