// The screens, built as they are shipped and served by the real web server over a lab for tests.

import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { inject } from 'vitest';
import type { ServerOptions } from '../../dashboard/server/context/server-context.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { type ServerForTests, serverForTests } from '../server-for-tests.ts';
import { SHOWN_LOT, SHOWN_PATTERN } from './places.ts';

export interface BuiltScreens extends ServerForTests {
  readonly address: string;
  /** Lets nothing through any more without closing anything, as a pulled cable does; `mend` ends it. */
  readonly pullCable: () => void;
  /** Ends every connection and refuses new ones, as a phone out of reach finds it; `mend` ends it. */
  readonly leave: () => void;
  readonly mend: () => void;
}

interface Gate {
  readonly port: number;
  readonly pullCable: () => void;
  readonly leave: () => void;
  readonly mend: () => void;
  readonly close: () => void;
}

/** A wire between browser and server that can be pulled. */
const openGate = async (serverPort: number): Promise<Gate> => {
  const open = new Set<Socket>();
  let pulled = false;
  let left = false;
  const gate = createServer((near) => {
    if (left) {
      near.destroy();
      return;
    }
    const far = connect(serverPort, '127.0.0.1');
    for (const [from, to] of [
      [near, far],
      [far, near],
    ] as const) {
      open.add(from);
      from.on('data', (data) => pulled || to.write(data));
      from.on('close', () => {
        open.delete(from);
        to.destroy();
      });
      from.on('error', () => to.destroy());
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
    leave: () => {
      left = true;
      destroyAll();
    },
    mend: () => {
      pulled = false;
      left = false;
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

const RECORDED_MINUTES = 1440;

/** A day of readings in a pot and on a shelf, a charge and a pattern, so that each screen has what it shows. */
export const fillRecords = async ({ lab }: ServerForTests): Promise<void> => {
  const { running } = lab;
  const { repository, store } = running;
  repository.saveProbe({
    id: 'shelf-1-a',
    station: 'shelf-1',
    gateway: 'gw-1',
    correction_celsius: 0,
    uncertainty_celsius: 0.5,
  });
  const minutesAgo = (minutes: number) => epochMillis(running.now() - minutes * 60_000);
  const readings = Array.from({ length: RECORDED_MINUTES }, (_, index) => index + 1).flatMap((minutes) => {
    const at = minutesAgo(RECORDED_MINUTES - minutes);
    const quality = 'good' as const;
    return [
      { probe: 'pot-1-a', at, celsius: celsius(68 + 4 * Math.sin(minutes / 40)), quality },
      { probe: 'shelf-1-a', at, celsius: celsius(23 + 2 * Math.sin(minutes / 230)), quality },
    ];
  });
  await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
  const began = new Date(minutesAgo(RECORDED_MINUTES)).toISOString();
  repository.saveLot({
    id: SHOWN_LOT,
    wax: 'inlay-type-2',
    maker: 'North Wax dip green for crowns and bridges',
    lot: 'X-12045',
    expiresOn: '2033-12-31',
    sheetValues: { ceiling: 84 },
    recordedAt: began,
    recordedBy: 'Mara',
  });
  repository.saveCharge({
    id: 'pot-1-first',
    station: 'pot-1',
    wax: 'inlay-type-2',
    lot: SHOWN_LOT,
    grams: 250,
    startedAt: began,
    topUps: [{ at: new Date(minutesAgo(300)).toISOString(), fraction: 0.2, by: 'Mara' }],
    cleanedAt: began,
    endedAt: null,
  });
  repository.savePattern({
    id: SHOWN_PATTERN,
    caseReference: 'Case 41, upper left',
    wax: 'inlay-type-2',
    charge: 'pot-1-first',
    lot: SHOWN_LOT,
    technique: 'layered',
    length_millimetres: 12,
    tolerance_micrometres: 60,
    madeAt: began,
    madeBy: 'Mara',
    stays: [{ station: 'shelf-1', from: began, to: null }],
    fate: null,
  });
};

export const openScreens = async (
  options: Parameters<typeof serverForTests>[0] = {},
): Promise<BuiltScreens> => {
  const parts = await serverForTests({ demo: true, webRoot: inject('webRoot'), alarmWords, ...options });
  await parts.server.listen({ host: '127.0.0.1', port: 0 });
  const gate = await openGate((parts.server.server.address() as AddressInfo).port);
  return {
    ...parts,
    address: `http://127.0.0.1:${gate.port}`,
    pullCable: gate.pullCable,
    leave: gate.leave,
    mend: gate.mend,
    close: async () => {
      gate.close();
      await parts.close();
    },
  };
};
