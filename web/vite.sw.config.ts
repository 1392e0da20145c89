import { defineConfig } from "vite";

/** The service worker: one classic script with a name that stays, beside index.html. */
export default defineConfig({
  publicDir: false,
  build: {
    target: "es2023",
    emptyOutDir: false,
    copyPublicDir: false,
    rolldownOptions: {
      input: "sw/worker.ts",
      output: { format: "iife", entryFileNames: "sw.js", codeSplitting: false },
    },
  },
});
