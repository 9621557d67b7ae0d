// SPDX-License-Identifier: Apache-2.0
// Builds the page into the package, so that installing Sumpwright needs no Node and no network.
import { defineConfig } from "vite";

export default defineConfig({
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    outDir: "../src/sumpwright/web/static",
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0, // the content-security policy takes no data: scripts or styles
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    chunkSizeWarningLimit: 900,
  },
});
