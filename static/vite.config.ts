// SPDX-License-Identifier: Apache-2.0
import preact from "@preact/preset-vite";
import { VitePWA } from "vite-plugin-pwa";
import { defineConfig } from "vitest/config";
import { readyMessages } from "./ready_messages";
import { storeFirst } from "./store_first";

export default defineConfig({
  root: import.meta.dirname,
  base: "/",
  build: {
    target: "es2022",
    sourcemap: false,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: { input: ["index.html", "trust.html"] },
  },
  worker: { format: "es" },
  plugins: [
    preact({ devToolsEnabled: false }),
    readyMessages(/\/src\/words\/[a-z]+\/\w+\.ts$/),
    storeFirst("src/journal/worker.ts", /src\/sync\/(store_link|trusted_scripts)\.ts$/),
    VitePWA({
      strategies: "injectManifest",
      srcDir: "src/shell",
      filename: "service_worker.ts",
      injectRegister: false,
      injectManifest: {
        globPatterns: ["**/*.{js,css,html,svg,webmanifest}"],
        // It is read before there is an app, and never by it.
        globIgnores: ["trust.html", "assets/{trust,unprotected}*"],
      },
      manifest: {
        name: "Tallywright",
        short_name: "Tallywright",
        description: "Checks and tallies for batches of metal parts",
        start_url: "/",
        display: "standalone",
        background_color: "#f2f2f0",
        theme_color: "#2b2f33",
        icons: [{ src: "/icon.svg", sizes: "any", type: "image/svg+xml", purpose: "any" }],
      },
    }),
  ],
  test: {
    include: ["../tests/static/**/*.test.ts"],
    setupFiles: ["../tests/static/words/learned.ts"],
    environment: "node",
    fileParallelism: false,
    // All files share what they import: to read it anew for each of them took longer than all tests.
    isolate: false,
    // A test asks whether something holds, not how soon: beside other work a property of many cases takes its time.
    testTimeout: 120_000,
  },
  server: { fs: { allow: [".."] } },
});
