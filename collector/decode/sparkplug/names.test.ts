// Names of nodes and devices as the standard allows them: any letters of any script.
import { get } from 'sparkplug-payload';
import type { UMetric } from 'sparkplug-payload/lib/sparkplugbpayload.js';
import { expect, it } from 'vitest';
import { epochMillis } from '../../../wax/units.ts';
import { SparkplugHost } from './host.ts';

const codec = get('spBv1.0');
if (codec == null) throw new Error('no codec');

const NOW = Date.UTC(2026, 5, 1, 8);

const births = () => {
  const host = new SparkplugHost();
  return (topic: string, seq = 0, metrics: UMetric[] = [{ name: 'bdSeq', type: 'UInt64', value: 0 }]) =>
    host.receive({
      topic: `spBv1.0/g/${topic}`,
      payload: codec.encodePayload({ timestamp: NOW, seq, metrics }),
      receivedAt: epochMillis(NOW),
      delivery: 'live',
      site: 'lab-1',
    }).decoded;
};

it.each([
  ['Wax Room', 'Wax-Room'],
  ['Wachsküche 2', 'Wachsk-che-2'],
  // The first digits of the SHA-256 of the name.
  ['печь', '649c8a'],
  ['печь 2', '2-4246d5'],
])('a Sparkplug node with the name %j is the gateway %s', (edge, gateway) => {
  expect(births()(`NBIRTH/${edge}`)).toMatchObject({
    entries: [{ kind: 'gateway', gateway }],
    rejections: [],
  });
});

it('a Sparkplug node that would be the gateway of one that is online is refused', () => {
  const born = births();
  expect(born('NBIRTH/Wax Room').rejections).toEqual([]);
  expect(born('NBIRTH/Wax-Room').rejections).toMatchObject([{ code: 'sparkplug-node-twice' }]);
});

it('each Sparkplug device is a probe of its own, in whatever script its name is and however alike two names read', () => {
  const born = births();
  born('NBIRTH/edge');
  const devices = ['печь', 'шкаф', 'ванна', 'Pot 1', 'Pot-1', 'Pot*1', 'Pot?1'];
  const probes = devices.flatMap((device, index) =>
    born(`DBIRTH/edge/${device}`, index + 1, [
      { name: 'Temperature', type: 'Double', value: 60 + index, timestamp: NOW },
    ]).entries.flatMap((entry) =>
      entry.kind === 'readings' ? entry.readings.map(({ probe }) => probe) : [],
    ),
  );
  expect(probes).toHaveLength(devices.length);
  expect(new Set(probes).size).toBe(devices.length);
});
