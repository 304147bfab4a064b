// A case of labelled traces from its folder (docs/faultbench.md): columns of numbers, not an object a reading.

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { CaseReadings, LabelledCase } from '../../simulators/cases/case.ts';
import { CaseRefusal, caseStation, fieldsOf, instantOf, listOf, textOf, trueFault } from './case-fields.ts';

/** Where stamp and arrival do not differ by more than the way over the network. */
const USUAL_WAY_MILLIS = 400;

/** Folders that hold a case, at any depth, by name. */
export function caseFolders(folder: string): readonly string[] {
  if (existsSync(join(folder, 'stations.json'))) return [folder];
  if (!existsSync(folder)) throw new CaseRefusal(folder, 'a folder');
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => caseFolders(join(folder, entry.name)));
}

const json = (folder: string, file: string): unknown => {
  try {
    return JSON.parse(readFileSync(join(folder, file), 'utf8'));
  } catch (error) {
    throw new CaseRefusal(
      join(folder, file),
      `readable JSON (${error instanceof Error ? error.message : error})`,
    );
  }
};

export function readCase(folder: string): LabelledCase {
  const described = fieldsOf(json(folder, 'stations.json'), 'stations.json');
  const stations = listOf(described.stations, 'stations.json: stations').map((station, index) =>
    caseStation(station, `${folder}/stations.json: stations[${index}]`),
  );
  const probes = stations.flatMap((station) => station.probes.map(({ id }) => id));
  return {
    name: basename(folder),
    timeZone: textOf(described.time_zone, `${folder}/stations.json: time_zone`),
    starts: instantOf(described.starts, `${folder}/stations.json: starts`),
    ends: instantOf(described.ends, `${folder}/stations.json: ends`),
    stations,
    probes,
    readings: readings(folder, probes),
    truth: listOf(json(folder, 'truth.json'), `${folder}/truth.json`).map((fault, index) =>
      trueFault(fault, `${folder}/truth.json: [${index}]`),
    ),
  };
}

/** Rows below the header, with the named columns picked out; blank lines at the end are none. */
function* rows(file: string, names: readonly string[]): Generator<readonly string[]> {
  const text = readFileSync(file, 'utf8');
  let from = 0;
  const line = (): string => {
    const end = text.indexOf('\n', from);
    const found = text.slice(from, end < 0 ? text.length : end);
    from = end < 0 ? text.length : end + 1;
    return found.endsWith('\r') ? found.slice(0, -1) : found;
  };
  const header = line().split(',');
  const columns = names.map((name) => header.indexOf(name));
  if (columns.includes(-1)) throw new CaseRefusal(`${file}, line 1`, `the columns ${names.join(', ')}`);
  while (from < text.length) {
    const found = line();
    if (found === '') continue;
    const cells = found.split(',');
    yield columns.map((column) => cells[column] ?? '');
  }
}

function readings(folder: string, probes: readonly string[]): CaseReadings {
  const file = join(folder, 'trace.csv');
  const index = new Map(probes.map((id, position) => [id, position]));
  const at: number[] = [];
  const probe: number[] = [];
  const celsius: number[] = [];
  for (const [time = '', id = '', value = ''] of rows(file, ['time', 'probe', 'celsius'])) {
    const where = `${file}, line ${at.length + 2}`;
    const position = index.get(id);
    if (position === undefined) throw new CaseRefusal(where, `a probe of stations.json, not "${id}"`);
    const degrees = Number(value);
    if (value === '' || !Number.isFinite(degrees))
      throw new CaseRefusal(where, `degrees Celsius, not "${value}"`);
    at.push(instantOf(time, where));
    probe.push(position);
    celsius.push(degrees);
  }
  return {
    at: Float64Array.from(at),
    receivedAt: arrivals(join(folder, 'arrivals.csv'), at),
    probe: Uint16Array.from(probe),
    celsius: Float64Array.from(celsius),
  };
}

function arrivals(file: string, at: readonly number[]): Float64Array {
  if (!existsSync(file)) return Float64Array.from(at, (stamp) => stamp + USUAL_WAY_MILLIS);
  const received: number[] = [];
  for (const [instant = ''] of rows(file, ['received']))
    received.push(instantOf(instant, `${file}, line ${received.length + 2}`));
  if (received.length !== at.length)
    throw new CaseRefusal(
      file,
      `${at.length} arrivals, one for each line of trace.csv; it has ${received.length}`,
    );
  return Float64Array.from(received);
}
