/** Lets Node's test runner load TypeScript and Svelte modules, on versions that strip no types too. */

import { readFile } from "node:fs/promises";
import { register } from "node:module";
import { fileURLToPath } from "node:url";
import { isMainThread } from "node:worker_threads";

import { compileModule } from "svelte/compiler";
import ts from "typescript";

if (isMainThread) register(import.meta.url);

const OPTIONS = {
  target: ts.ScriptTarget.ES2023,
  module: ts.ModuleKind.ESNext,
  verbatimModuleSyntax: true,
  inlineSourceMap: true,
};

export async function load(url, context, next) {
  if (!url.endsWith(".ts")) return next(url, context);
  const fileName = fileURLToPath(url);
  const text = await readFile(fileName, "utf8");
  let source = ts.transpileModule(text, { compilerOptions: OPTIONS, fileName }).outputText;
  if (fileName.endsWith(".svelte.ts")) {
    source = compileModule(source, { filename: fileName, generate: "client" }).js.code;
  }
  return { format: "module", source, shortCircuit: true };
}
