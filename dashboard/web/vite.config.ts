// Builds the screens into dist/web: one page, one script for the frame and one for each screen, so that the wall
// never loads the chart. The manifest is kept for the size check.

import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { defineConfig, type Plugin } from 'vite';
import { words } from './words-plugin.ts';

const server = process.env.WAXWARDEN_WEB_PROXY ?? 'http://127.0.0.1:8460';

/** Fonts are compressed in themselves, and what is short gains nothing. */
const COMPRESSED = /\.(js|css|svg|json|webmanifest)$/;
const LEAST_BYTES = 1024;

/** Each text beside its compressed forms, made once and as small as can be, for the server to send as they are. */
const precompress: Plugin = {
  name: 'precompress',
  apply: 'build',
  writeBundle: ({ dir = '' }, bundle) => {
    for (const name of Object.keys(bundle)) {
      const content = COMPRESSED.test(name) ? readFileSync(join(dir, name)) : Buffer.alloc(0);
      if (content.length < LEAST_BYTES) continue;
      writeFileSync(join(dir, `${name}.br`), brotliCompressSync(content));
      writeFileSync(join(dir, `${name}.gz`), gzipSync(content, { level: 9 }));
    }
  },
};

/** What a phone needs to open without a network: the frame and the screens on which acts can wait, with their words. */
const OFFLINE = /(main|overview\/home|pocket\/pocket|alarms\/alarms|work\/(register|patterns|charges))\.tsx$/;
const OFFLINE_WORDS = /^\0virtual:words\/[\w-]+\/(daily|work)$/;
/** Stands in the worker's source; its quotes are the minifier's choice. */
const SHELL_PLACE = /(["'`])the-shell\1/;

/** Writes into the worker which files those are, and as a version the hash of their names, which hold theirs. */
const offlineShell: Plugin = {
  name: 'offline-shell',
  apply: 'build',
  enforce: 'post',
  generateBundle: (_options, bundle) => {
    const files = new Set<string>();
    const take = (name: string): void => {
      const chunk = bundle[name];
      if (files.has(name) || chunk?.type !== 'chunk') return;
      files.add(name);
      for (const style of chunk.viteMetadata?.importedCss ?? []) files.add(style);
      for (const imported of chunk.imports) take(imported);
    };
    for (const [name, chunk] of Object.entries(bundle)) {
      if (FIRST_FONTS.test(name)) files.add(name);
      if (chunk.type !== 'chunk') continue;
      if (chunk.moduleIds.some((source) => OFFLINE.test(source) || OFFLINE_WORDS.test(source))) take(name);
    }
    const worker = bundle['service-worker.js'];
    if (worker?.type !== 'chunk' || !SHELL_PLACE.test(worker.code))
      throw new Error('The service worker has no place for the list of what opens without a network.');
    const paths = [...files].sort().map((name) => `/${name}`);
    const version = createHash('sha256').update(paths.join()).digest('hex').slice(0, 12);
    worker.code = worker.code.replace(SHELL_PLACE, JSON.stringify({ version, files: ['/', ...paths] }));
  },
};

/** The two faces that every screen opens with, asked for with the page and not after its style. */
const FIRST_FONTS = /barlow-semi-condensed-latin-[56]00-normal-[\w-]+\.woff2$/;
const preloadFonts: Plugin = {
  name: 'preload-fonts',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: (_html, { bundle = {} }) =>
      Object.keys(bundle)
        .filter((name) => FIRST_FONTS.test(name))
        .map((name) => ({
          tag: 'link',
          injectTo: 'head',
          attrs: { rel: 'preload', as: 'font', type: 'font/woff2', href: `/${name}`, crossorigin: true },
        })),
  },
};

export default defineConfig({
  plugins: [words(), precompress, preloadFonts, offlineShell],
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
    rolldownOptions: {
      input: {
        index: join(import.meta.dirname, 'index.html'),
        'service-worker': join(import.meta.dirname, 'app', 'service-worker.ts'),
      },
      output: {
        // Its address is its identity, and its folder what it may look after.
        entryFileNames: ({ name }) => (name === 'service-worker' ? '[name].js' : 'assets/[name]-[hash].js'),
      },
    },
  },
  server: { host: '127.0.0.1', proxy: { '/api': { target: server } } },
});
