// Code that branches on the name of a kind misses the next kind. So the names of kinds are in the table alone.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from '@swc/core';
import { describe, expect, it } from 'vitest';
import { STATION_KINDS } from '../../lab/station-kinds.ts';

const root = join(import.meta.dirname, '../..');
/** The science has no stations; the simulated lab has stations of its own. */
const FOLDERS = ['lab', 'collector', 'alerts', 'pipeline', 'dashboard', 'cli'];
const TABLE = 'lab/station-kinds.ts';
/** The lamp at the bench that shows an alarm; the infrared lamp is a station. */
const ALARM_LAMP =
  /^(alerts\/notices\/|dashboard\/web\/screens\/set-up\/(deliveries|notification-plan)\/|dashboard\/server\/routes\/notices\/|dashboard\/api\/notification-plan\.ts)/;

const names: ReadonlySet<string> = new Set(STATION_KINDS);

/** Names of kinds that are in the code as a text, a property or a type, and questions to the letters of a kind. */
function kindNames(code: string, path = 'code.ts'): readonly string[] {
  const found: string[] = [];
  const visit = (node: unknown, parent: Record<string, unknown>): void => {
    if (Array.isArray(node)) for (const item of node) visit(item, parent);
    if (typeof node !== 'object' || node === null || Array.isArray(node)) return;
    const { type, value } = node as Record<string, unknown>;
    const isKey = type === 'Identifier' && parent.type === 'KeyValueProperty' && parent.key === node;
    const text = type === 'StringLiteral' ? value : isKey ? (node as { value: unknown }).value : undefined;
    if (typeof text === 'string' && names.has(text) && !(ALARM_LAMP.test(path) && text === 'lamp'))
      found.push(text);
    for (const [name, child] of Object.entries(node))
      if (name !== 'span') visit(child, node as Record<string, unknown>);
  };
  visit(parseSync(code, { syntax: 'typescript', tsx: path.endsWith('x'), target: 'es2022' }).body, {});
  return [...found, ...(code.match(/\bkind\??\.(endsWith|startsWith|includes|match)\(/g) ?? [])];
}

const files = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((path) => `${folder}/${path}`)
    .filter((path) => /\.tsx?$/.test(path) && !/\.test\.tsx?$|\.d\.ts$/.test(path) && path !== TABLE),
);

describe('code outside the table of station kinds', () => {
  it('never names a kind', () => {
    const offenders = files.flatMap((path) => {
      const found = kindNames(readFileSync(join(root, path), 'utf8'), path);
      return found.map((name) => `${path}: ${name}`);
    });
    expect(files.length).toBeGreaterThan(200);
    expect(offenders).toEqual([]);
  });

  it.each([
    ["station.kind === 'annealer'", ['annealer']],
    ["const places = new Set(['cabinet', 'shelf']);", ['cabinet', 'shelf']],
    ['const limits = { room: 25 };', ['room']],
    ["switch (kind) { case 'dip-pot': break; }", ['dip-pot']],
    ["kind.endsWith('pot')", ['kind.endsWith(']],
    ["type Pot = 'melt-pot';", ['melt-pot']],
    ['const room = 25; open(room);', []],
  ])('is refused where it does: %s', (code, found) => {
    expect(kindNames(code)).toEqual(found);
  });
});
