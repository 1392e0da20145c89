import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

// build.py packs the engine first and says here where it lies.
const place = process.env["BANKSIDE_ENGINE_PLACE"];

export default defineConfig({
  // Relative, so that the files work under any path of any web host.
  base: "./",
  define: { ENGINE_PLACE: place ?? "undefined" },
  plugins: [
    svelte(),
    {
      name: "engine-place",
      buildStart() {
        if (!place) this.error("the app is built by `make build`, that is `python web/build.py`");
      },
    },
  ],
  worker: { format: "es" },
  optimizeDeps: { exclude: ["pyodide"] },
  build: {
    target: "es2023",
    emptyOutDir: true,
    license: { fileName: "licences.txt" },
    // How long each part of a build took is no warning.
    rolldownOptions: { checks: { bundlerTimings: false } },
  },
});
