// The demonstration never fails for a port that is taken: it takes the next free one.

import { createServer } from 'node:net';
import type { ProcessSettings } from './settings/settings.ts';

/** Ports after the requested one that are looked at. */
const LOOKED_AT = 200;
const LAST_PORT = 65_535;

const isFree = (host: string, port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const server = createServer();
    server.once('error', () => resolve(false));
    server.listen(port, host, () => server.close(() => resolve(true)));
  });

/** The first port from `wanted` on that is free and not in `given`; 0, any free one, when there is none. */
async function freePortFrom(host: string, wanted: number, given: ReadonlySet<number>): Promise<number> {
  if (wanted === 0) return 0;
  const last = Math.min(wanted + LOOKED_AT, LAST_PORT);
  for (let port = wanted; port <= last; port += 1)
    if (!given.has(port) && (await isFree(host, port))) return port;
  return 0;
}

export interface MovedPort {
  readonly wanted: number;
  readonly used: number;
}

/** The settings with a free port for each that is taken, and which had to move. */
export async function onFreePorts(
  settings: ProcessSettings,
): Promise<{ readonly settings: ProcessSettings; readonly moved: readonly MovedPort[] }> {
  const { host, broker } = settings;
  const given = new Set<number>();
  const moved: MovedPort[] = [];
  const take = async (wanted: number): Promise<number> => {
    const used = await freePortFrom(host, wanted, given);
    given.add(used);
    if (used !== wanted) moved.push({ wanted, used });
    return used;
  };
  const port = await take(settings.port);
  const httpPort = settings.https === null ? settings.httpPort : await take(settings.httpPort);
  const ours = broker.kind === 'embedded' ? { ...broker, port: await take(broker.port) } : broker;
  return { settings: { ...settings, port, httpPort, broker: ours }, moved };
}
