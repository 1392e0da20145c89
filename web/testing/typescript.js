/** Lets Node's test runner load TypeScript and Svelte modules, on versions that strip no types too. */

import { readFile } from "node:fs/promises";
import { register } from "node:module";
import { fileURLToPath } from "node:url";
import { isMainThread } from "node:worker_threads";

import { compile, compileModule } from "svelte/compiler";
import ts from "typescript";

if (isMainThread) register(import.meta.url);

const OPTIONS = {
  target: ts.ScriptTarget.ES2023,
  module: ts.ModuleKind.ESNext,
  verbatimModuleSyntax: true,
  inlineSourceMap: true,
};

export async function load(url, context, next) {
  if (url.endsWith(".css")) return { format: "module", source: "", shortCircuit: true };
  if (!/\.(ts|svelte)$/.test(url)) return next(url, context);
  const fileName = fileURLToPath(url);
  const text = await readFile(fileName, "utf8");
  if (fileName.endsWith(".svelte")) {
    // As the page is written out without a browser, for tests of what it says.
    const { js } = compile(text, { filename: fileName, generate: "server" });
    return { format: "module", source: js.code, shortCircuit: true };
  }
  let source = ts.transpileModule(text, { compilerOptions: OPTIONS, fileName }).outputText;
  if (fileName.endsWith(".svelte.ts")) {
    source = compileModule(source, { filename: fileName, generate: "client" }).js.code;
  }
  return { format: "module", source, shortCircuit: true };
}
