import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

export default defineConfig({
  // Relative, so that the files work under any path of any web host.
  base: "./",
  plugins: [svelte()],
  worker: { format: "es" },
  optimizeDeps: { exclude: ["pyodide"] },
  build: { target: "es2023", outDir: "dist", emptyOutDir: true },
});
