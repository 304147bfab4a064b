// The lab of the alarm bench, many pots and a room, and the load of its other probes, from a process of its own.

import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { until } from '../../integration/until.ts';

const BACKGROUND_PER_SECOND = 2000;
const CALM_PROBES = 40;
const SITE = 'bench';
export const CALM_CELSIUS = '64';
/** Over the ceiling of every wax class. */
export const HOT_CELSIUS = '190';

export const topicOf = (pot: string): string => `wax/${SITE}/gw-pots/${pot}/celsius`;

export const labFile = (pots: readonly string[]): string =>
  [
    `site: { id: ${SITE}, name: Bench, time_zone: Europe/Berlin, working_hours: {} }`,
    'stations:',
    ...pots.map((id) => `  - { id: ${id}, name: ${id}, kind: melt-pot, wax: inlay-type-2 }`),
    '  - { id: room, name: Room, kind: room }',
    'probes:',
    ...pots.map((id) => `  - { id: ${id}, gateway: gw-pots, station: ${id} }`),
    ...Array.from(
      { length: CALM_PROBES },
      (_, index) => `  - { id: calm-${index}, gateway: gw-calm, station: room }`,
    ),
    '',
  ].join('\n');

export interface OtherReadings {
  /** Ends them; returns how many came a second. */
  readonly rate: () => Promise<number>;
}

export const startOtherReadings = async (url: string): Promise<OtherReadings> => {
  const child = spawn(
    process.execPath,
    [
      join(import.meta.dirname, '..', 'peers', 'background-load.js'),
      url,
      `wax/${SITE}/gw-calm/senml`,
      String(BACKGROUND_PER_SECOND),
      String(CALM_PROBES),
    ],
    { stdio: ['pipe', 'pipe', 'inherit'] },
  );
  let printed = '';
  child.stdout?.on('data', (chunk) => {
    printed += chunk;
  });
  await until(() => printed.includes('stands'));
  return {
    rate: async () => {
      const ended = once(child, 'exit');
      child.stdin?.end();
      await ended;
      return Number(/rate (\S+)/.exec(printed)?.[1]);
    },
  };
};
