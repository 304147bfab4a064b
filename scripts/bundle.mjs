// The programs as few files as possible: a start that reads some dozens of files takes half the processor time of one that
// reads two thousand. dist/ keeps the modules one by one, as tsc made them; where a program begins there is a line
// that loads its bundle. A source map lies beside each bundle, for `node --enable-source-maps`.

import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { rolldown } from 'rolldown';

/** What is run, or started as a thread, by its path below dist/. */
const PROGRAMS = [
  'cli/main.js',
  'collector/intake/intake-worker.js',
  'cli/data/copy-worker.js',
  'dashboard/reports/paper/paper-worker.js',
  'gateway/main.js',
  'group/main.js',
];
/** They load native code, or data that lies beside their own files. */
const APART = [
  'better-sqlite3',
  'serialport',
  '@serialport/bindings-cpp',
  'modbus-serial',
  'pdfkit',
  'dejavu-fonts-ttf',
  'pg',
];
const FOLDER = 'bundle';

/** A module that looks for what lies beside it finds it where tsc put the module. */
const placesOfModules = (dist) => ({
  name: 'places-of-modules',
  transform(code, id) {
    if (!id.startsWith(dist + sep) || !code.includes('import.meta.')) return null;
    const place = `../${relative(dist, id).split(sep).join('/')}`;
    const placed = code
      .replaceAll('import.meta.url', `new URL(${JSON.stringify(place)}, import.meta.url).href`)
      .replaceAll('import.meta.dirname', `(import.meta.dirname + ${JSON.stringify(`/${dirname(place)}`)})`);
    // Nothing moves to another line.
    return { code: placed, map: null };
  },
});

/** tsc's maps, so that those of the bundles lead to the sources. */
const mapsOfModules = (dist) => ({
  name: 'maps-of-modules',
  load(id) {
    const map = `${id}.map`;
    if (!id.startsWith(dist + sep) || !existsSync(map)) return null;
    return { code: readFileSync(id, 'utf8'), map: readFileSync(map, 'utf8') };
  },
});

export async function bundlePrograms(root) {
  const dist = join(root, 'dist');
  const bundle = await rolldown({
    input: Object.fromEntries(
      PROGRAMS.map((file) => [file.replace(/\.js$/, '').replaceAll('/', '-'), join(dist, file)]),
    ),
    platform: 'node',
    external: (id) => APART.some((name) => id === name || id.startsWith(`${name}/`)),
    plugins: [mapsOfModules(dist), placesOfModules(dist)],
    logLevel: 'warn',
  });
  await bundle.write({
    dir: join(dist, FOLDER),
    format: 'esm',
    sourcemap: true,
    // A single letter beyond Latin-1, also in a comment, makes the engine of the language hold a file at two bytes a letter.
    charset: 'ascii',
    comments: { jsdoc: false },
    entryFileNames: '[name].js',
    chunkFileNames: '[name]-[hash].js',
  });
  await bundle.close();
  for (const file of PROGRAMS) {
    const name = file.replaceAll('/', '-');
    const way = relative(join(dist, dirname(file)), join(dist, FOLDER, name))
      .split(sep)
      .join('/');
    writeFileSync(join(dist, file), `#!/usr/bin/env node\nimport '${way}';\n`);
  }
}
