// Builds the screens into dist/web: one page, one script for the frame and one for each screen, so that the wall
// never loads the chart. The manifest is kept for the size check.

import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { defineConfig, type Plugin } from 'vite';
import { compression, defineAlgorithm } from 'vite-plugin-compression2';
import { formFields } from './form-fields-plugin.ts';
import { words } from './words-plugin.ts';

const server = process.env.WAXWARDEN_WEB_PROXY ?? 'http://127.0.0.1:8460';

/** Each text beside its compressed forms, made once and as small as can be, for the server to send as they are. */
const compressed = compression({
  // Fonts are compressed in themselves, and what is short gains nothing.
  include: /\.(js|css|svg|json|webmanifest)$/,
  threshold: 1024,
  algorithms: [defineAlgorithm('gzip', { level: 9 }), 'brotliCompress'],
  logLevel: 'silent',
});

/** The name under which workbox expects the list in the worker's source. */
const SHELL_PLACE = 'self.__WB_MANIFEST';

/** What a phone needs to open without a network: the frame and the screens on which acts can wait, with their words. */
const OFFLINE_SCREENS = [
  /\/app\/main\.tsx$/,
  /\/app\/around\.tsx$/,
  /\/screens\/overview\/home\.tsx$/,
  /\/screens\/phone\/phone-screen\.tsx$/,
  /\/screens\/alarms\/alarms\.tsx$/,
  /\/screens\/work\/(register|patterns|charges)\.tsx$/,
  /^\0virtual:words\/[\w-]+\/wall$/,
  /^\0virtual:words\/[\w-]+\/daily$/,
  /^\0virtual:words\/[\w-]+\/work$/,
];

/** Writes into the worker which files are kept on the device, and as the page's revision the hash of their names. */
const offlineShell: Plugin = {
  name: 'offline-shell',
  apply: 'build',
  enforce: 'post',
  generateBundle: (_options, bundle) => {
    const files = new Set(Object.keys(bundle).filter((name) => FIRST_FONTS.test(name)));
    const take = (name: string): void => {
      const chunk = bundle[name];
      if (files.has(name) || chunk?.type !== 'chunk') return;
      files.add(name);
      for (const style of chunk.viteMetadata?.importedCss ?? []) files.add(style);
      for (const imported of chunk.imports) take(imported);
    };
    for (const needed of OFFLINE_SCREENS) {
      const chunks = Object.entries(bundle).filter(
        ([, chunk]) => chunk.type === 'chunk' && chunk.moduleIds.some((source) => needed.test(source)),
      );
      if (chunks.length === 0) throw new Error(`Nothing to open without a network is called ${needed}.`);
      for (const [name] of chunks) take(name);
    }
    const worker = bundle['service-worker.js'];
    if (worker?.type !== 'chunk' || !worker.code.includes(SHELL_PLACE))
      throw new Error('The service worker has no place for the list of what opens without a network.');
    const assets = [...files].sort().map((name) => ({ url: `/${name}`, revision: null }));
    const revision = createHash('sha256').update(JSON.stringify(assets)).digest('hex').slice(0, 12);
    worker.code = worker.code.replace(SHELL_PLACE, JSON.stringify([...assets, { url: '/', revision }]));
  },
};

/** The two faces that every screen opens with, requested with the page and not after its style. */
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

/** What the page, the wall and the words themselves are made of. */
const FIRST = /\/app\/main\.tsx$|\/screens\/wall\/wall\.tsx$|^\0virtual:words\//;
const first = new Set<string>();
/** Notes it before it is decided which script holds what. */
const notedFirst: Plugin = {
  name: 'noted-first',
  apply: 'build',
  buildEnd() {
    const note = (id: string): void => {
      if (first.has(id)) return;
      first.add(id);
      for (const imported of this.getModuleInfo(id)?.importedIds ?? []) note(imported);
    };
    for (const id of this.getModuleIds()) if (FIRST.test(id)) note(id);
  },
};

/** Large and needed by few screens, and what brings it along. */
const APART = /\/(uqr|link-for-others|one-time-secret|fit-budget|thermal-strain)\b/;
/**
 * What several screens share lies in few scripts: each is requested by itself, and a slow network takes longer to request
 * than to bring the little that a screen does not need. What the wall is made of lies apart, so that it loads no more.
 */
const SHARED = [
  { name: 'start', minShareCount: 3, test: (id: string) => first.has(id) && !FIRST.test(id) },
  { name: 'forms', minShareCount: 10, test: (id: string) => !first.has(id) },
  { name: 'daily-parts', minShareCount: 4, test: (id: string) => !first.has(id) && !APART.test(id) },
];

export default defineConfig({
  plugins: [notedFirst, words(), formFields(), preloadFonts, offlineShell, compressed],
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
        codeSplitting: { groups: SHARED },
        // Its address is its identity, and its folder what it may look after.
        entryFileNames: ({ name }) => (name === 'service-worker' ? '[name].js' : 'assets/[name]-[hash].js'),
      },
    },
  },
  server: { host: '127.0.0.1', proxy: { '/api': { target: server } } },
});
