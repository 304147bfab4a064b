// Lays a case down as files: trace.csv, stations.json, truth.json, and arrivals.csv where stamp and arrival differ.

import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { LabelledCase } from './case.ts';
import { iso } from '../../wax/iso.ts';

/** Where no file sets another a reading arrives so long after its stamp. */
const ARRIVES_AFTER_MILLIS = 400;

const json = (value: unknown): string => `${JSON.stringify(value, null, 1)}\n`;

const traceText = ({ readings, probes }: LabelledCase): string => {
  const rows = ['time,probe,celsius'];
  for (let i = 0; i < readings.at.length; i += 1)
    rows.push(`${iso(readings.at[i] ?? 0)},${probes[readings.probe[i] ?? 0]},${readings.celsius[i]}`);
  return `${rows.join('\n')}\n`;
};

const arrivalsText = ({ readings }: LabelledCase): string | null => {
  const { at, receivedAt } = readings;
  if (at.every((stamp, i) => receivedAt[i] === stamp + ARRIVES_AFTER_MILLIS)) return null;
  return `received\n${Array.from(receivedAt, iso).join('\n')}\n`;
};

/** Makes `folder` (with its parents) and writes the case's files into it. */
export const writeCase = async (folder: string, made: LabelledCase): Promise<void> => {
  await mkdir(folder, { recursive: true });
  const stations = {
    time_zone: made.timeZone,
    starts: iso(made.starts),
    ends: iso(made.ends),
    stations: made.stations,
  };
  await writeFile(join(folder, 'stations.json'), json(stations));
  await writeFile(join(folder, 'truth.json'), json(made.truth));
  await writeFile(join(folder, 'trace.csv'), traceText(made));
  const arrived = arrivalsText(made);
  if (arrived !== null) await writeFile(join(folder, 'arrivals.csv'), arrived);
};
