// `export`: readings of a span as they are stored, as CSV or as SenML, to the standard output.

import { once } from 'node:events';
import { openSeriesReader } from '../../collector/store/series-reader.ts';
import type { Reading } from '../../lab/reading.ts';
import { epochMillis } from '../../wax/units.ts';
import { readFolder } from './read-folder.ts';
import { choiceOption, instantOption, type Verb, VerbRefusal, verbArguments } from './verb.ts';

const AT_ONCE = 50_000;
const FIRST_INSTANT = epochMillis(0);
const LAST_INSTANT = epochMillis(Date.UTC(2100, 0, 1));

const csvLine = ({ probe, at, celsius, quality }: Reading): string =>
  `${new Date(at).toISOString()},${probe},${celsius},${quality}\n`;
/** RFC 8428; a doubtful reading carries its quality in a label of its own, which the standard lets readers ignore. */
const senmlRecord = ({ probe, at, celsius, quality }: Reading): string =>
  JSON.stringify({ n: probe, u: 'Cel', t: at / 1000, v: celsius, ...(quality !== 'good' && { quality }) });

export const exportReadings: Verb = {
  shape: '[--probe ID,ID] [--from INSTANT] [--to INSTANT] [--format csv|senml] [--data DIR]',
  help: 'prints readings of a span; all probes and the whole time when nothing is said',
  run: async (args, usualData) => {
    const { value, data } = verbArguments(args, usualData, ['probe', 'from', 'to', 'format']);
    const format = choiceOption('format', value('format'), ['csv', 'senml']);
    const from = instantOption('from', value('from')) ?? FIRST_INSTANT;
    const to = instantOption('to', value('to')) ?? LAST_INSTANT;
    const connection = readFolder(data);
    try {
      const stored = connection.prepare<[], string>('SELECT probe FROM series ORDER BY probe').pluck().all();
      const probes = value('probe')?.split(',') ?? stored;
      const unknown = probes.find((probe) => !stored.includes(probe));
      if (unknown !== undefined) throw new VerbRefusal(`--probe: there are no readings of ${unknown}`);
      const reader = openSeriesReader(connection);
      const print = async (text: string): Promise<void> => {
        if (!process.stdout.write(text)) await once(process.stdout, 'drain');
      };
      await print(format === 'csv' ? 'time,probe,celsius,quality\n' : '[');
      let isFirst = true;
      for (const probe of probes) {
        for (let next = from; ; ) {
          const rows = await reader.raw({ probe, from: next, to, limit: AT_ONCE });
          const last = rows.at(-1);
          if (last === undefined) break;
          if (format === 'csv') await print(rows.map(csvLine).join(''));
          else await print((isFirst ? '\n' : ',\n') + rows.map(senmlRecord).join(',\n'));
          isFirst = false;
          next = epochMillis(last.at + 1);
        }
      }
      if (format === 'senml') await print('\n]\n');
      return 0;
    } finally {
      connection.close();
    }
  },
};
