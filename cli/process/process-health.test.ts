import { describe, expect, it } from 'vitest';
import { working } from '../../collector/part-health.ts';
import { readLabFile } from '../../lab/lab-file/read-lab-file.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../wax/units.ts';
import { type HealthSources, processHealth } from './process-health.ts';

const NOW = epochMillis(Date.UTC(2031, 4, 4));
const read = readLabFile('site: { id: lab, name: Lab, time_zone: UTC }');

const healthOf = (intakeSite: string, certificateEndsAt: EpochMillis | null) => {
  if (!read.ok) throw new Error('The lab file of this test is refused.');
  const sources: HealthSources = {
    intake: {
      broker: { state: 'listening', host: '127.0.0.1', port: 1883, clients: 0 },
      journal: { state: 'writing' },
    },
    store: { health: async () => working('writing') },
    pipelineProblem: null,
    lab: { ...read.lab, people: [], charges: [], patterns: [] },
    intakeSite,
    certificateEndsAt,
    now: NOW,
  };
  return processHealth(sources);
};

describe('the health of the process', () => {
  it.each([
    ['lab', []],
    ['old-lab', ['site-id-changed']],
  ])(
    'of a site "lab" whose intake takes the topics of "%s" names %j at the broker',
    async (intakeSite, codes) => {
      const { broker } = await healthOf(intakeSite, null);
      expect(broker?.ok).toBe(codes.length === 0);
      expect((broker?.problems ?? []).map(({ code }) => code)).toEqual(codes);
    },
  );

  it.each([
    [8, []],
    [7, ['certificate-ends']],
    [-1, ['certificate-ends']],
  ])('whose certificate ends in %d days names %j', async (days, codes) => {
    const { certificate } = await healthOf('lab', epochMillis(NOW + days * MILLIS_PER_DAY));
    expect(certificate?.ok).toBe(codes.length === 0);
    expect((certificate?.problems ?? []).map(({ code }) => code)).toEqual(codes);
  });
});
