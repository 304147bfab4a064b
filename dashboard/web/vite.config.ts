// Builds the screens into dist/web: one page, one script for the frame and one for each screen, so that the wall
// never loads the chart. The manifest is kept for the size check.

import { defineConfig } from 'vite';

const server = process.env.WAXWARDEN_WEB_PROXY ?? 'http://127.0.0.1:8460';

export default defineConfig({
  root: import.meta.dirname,
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: '../../dist/web',
    emptyOutDir: true,
    manifest: true,
    target: 'es2022',
    // The server's content policy allows no inline content.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { host: '127.0.0.1', proxy: { '/api': { target: server } } },
});
