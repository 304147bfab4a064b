// The screens, built as they are shipped and served by the real web server over a lab for tests.

import { mkdtemp, rm } from 'node:fs/promises';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import type { ServerOptions } from '../../dashboard/server/server-context.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { type ServerForTests, serverForTests } from '../server-for-tests.ts';

export interface BuiltScreens extends ServerForTests {
  readonly address: string;
  /** Lets nothing through any more without closing anything, as a pulled cable does; `mend` ends it. */
  readonly pullCable: () => void;
  readonly mend: () => void;
}

interface Gate {
  readonly port: number;
  readonly pullCable: () => void;
  readonly mend: () => void;
  readonly close: () => void;
}

/** A wire between browser and server that can be pulled. */
const openGate = async (serverPort: number): Promise<Gate> => {
  const open = new Set<Socket>();
  let pulled = false;
  const gate = createServer((near) => {
    const far = connect(serverPort, '127.0.0.1');
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      open.add(one);
      one.on('data', (data) => pulled || other.write(data));
      one.on('close', () => {
        open.delete(one);
        other.destroy();
      });
      one.on('error', () => other.destroy());
    }
  });
  await new Promise<void>((listening) => gate.listen(0, '127.0.0.1', listening));
  const destroyAll = (): void => {
    for (const socket of open) socket.destroy();
  };
  return {
    port: (gate.address() as AddressInfo).port,
    pullCable: () => {
      pulled = true;
    },
    mend: () => {
      pulled = false;
      destroyAll();
    },
    close: () => {
      destroyAll();
      gate.close();
    },
  };
};

const alarmWords: ServerOptions['alarmWords'] = (alarm, _lab, reader) => ({
  message: `What happened: ${alarm.rule}, read in ${reader.temperatureUnit}, ${reader.hourCycle}.`,
  meaning: 'The wax loses its lighter parts.',
  action: 'Turn it down and stay with it.',
  caution: 'Hot wax burns and its vapour can ignite.',
});

/** Stations of every kind until there are `count`, all measured just now. */
export const fillLab = async ({ lab }: ServerForTests, count: number): Promise<void> => {
  const { running } = lab;
  const kinds = ['dip-pot', 'cabinet', 'annealer', 'water-bath', 'lamp', 'shelf'] as const;
  for (let index = running.lab().stations.length; index < count; index += 1) {
    const kind = kinds[index % kinds.length] ?? 'room';
    running.repository.saveStation({
      id: `place-${index}`,
      name: `A place with quite a long name ${index}`,
      kind,
      wax: 'inlay-type-1',
    });
  }
  for (const station of running.lab().stations)
    lab.stand({
      station: station.id,
      celsius: celsius(128.4),
      at: epochMillis(running.now()),
      condition: 'in-window',
      celsiusPerHour: 3,
      minutesToCeiling: null,
      doseShare: 0.42,
      doseEquivalentHours: 50,
      swingCelsius: null,
    });
};

let webRoot: Promise<string> | null = null;
const buildOnce = async (): Promise<string> => {
  const folder = await mkdtemp(join(tmpdir(), 'waxwarden-screens-'));
  const configFile = join(import.meta.dirname, '..', '..', 'dashboard', 'web', 'vite.config.ts');
  await build({ configFile, logLevel: 'error', build: { outDir: folder } });
  return folder;
};

export const openScreens = async (
  options: Parameters<typeof serverForTests>[0] = {},
): Promise<BuiltScreens> => {
  webRoot ??= buildOnce();
  const parts = await serverForTests({ demo: true, webRoot: await webRoot, alarmWords, ...options });
  await parts.server.listen({ host: '127.0.0.1', port: 0 });
  const gate = await openGate((parts.server.server.address() as AddressInfo).port);
  return {
    ...parts,
    address: `http://127.0.0.1:${gate.port}`,
    pullCable: gate.pullCable,
    mend: gate.mend,
    close: async () => {
      gate.close();
      await parts.close();
    },
  };
};

export const removeBuild = async (): Promise<void> => {
  if (webRoot !== null) await rm(await webRoot, { recursive: true, force: true });
};
