import { describe, expect, it } from 'vitest';
import { working } from '../../collector/part-health.ts';
import { readLabFile } from '../../lab/lab-file/read-lab-file.ts';
import { processHealth } from './process-health.ts';

const read = readLabFile('site: { id: lab, name: Lab, time_zone: UTC }');

describe('the health of the process', () => {
  it.each([
    ['lab', []],
    ['old-lab', ['site-id-changed']],
  ])(
    'of a site "lab" whose intake takes the topics of "%s" names %j at the broker',
    async (intakeSite, codes) => {
      if (!read.ok) throw new Error('The lab file of this test is refused.');
      const { broker } = await processHealth({
        intake: {
          broker: { state: 'listening', host: '127.0.0.1', port: 1883, clients: 0 },
          journal: { state: 'writing' },
        },
        store: { health: async () => working('writing') },
        pipelineProblem: null,
        lab: { ...read.lab, people: [], charges: [], patterns: [] },
        intakeSite,
      });
      expect(broker?.ok).toBe(codes.length === 0);
      expect((broker?.problems ?? []).map(({ code }) => code)).toEqual(codes);
    },
  );
});
