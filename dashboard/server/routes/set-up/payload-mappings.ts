// Set-up: JSON of any shape becomes readings by mappings, tried over the newest real messages before they take any.

import { Type } from 'typebox';
import { decodeMapped } from '../../../../collector/decode/mapped-json.ts';
import { SAMPLE_BYTES } from '../../../../collector/decode/rejection.ts';
import type { QuarantineRow } from '../../../../collector/quarantine.ts';
import { filterParts, mappingFault, type PayloadMapping } from '../../../../lab/database/payload-mapping.ts';
import { problemText } from '../../../../words/problem-text.ts';
import { MappingBody, MappingTrial, MappingView } from '../../../api/payload-mappings.ts';
import type { App } from '../../base/app.ts';
import { asHttpProblem, HttpProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { sayToReader } from '../../sign-in/reader.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso } from '../../../../wax/iso.ts';

const Params = Type.Object({
  id: Type.String({ pattern: '^[A-Za-z0-9][A-Za-z0-9-]{0,39}$', description: 'Letters, digits and `-`' }),
});
const MOST_MAPPINGS = 50;
/** Rows of quarantine that are looked through for messages of the topic. */
const ROWS = 1000;
const MOST_TRIED = 20;

const refuseFault = (mapping: PayloadMapping): void => {
  const fault = mappingFault(mapping);
  if (fault !== null) throw asHttpProblem(fault);
};

export const payloadMappings = (app: App, context: ServerContext): void => {
  const { running, audit } = context;
  const { mappings } = running;
  app.get(
    '/api/payload-mappings',
    describeRoute('set-up-lab', 'set-up', 'How JSON of other devices becomes readings', {
      description: 'Mappings of topics outside the formats of this program.',
      response: { 200: Type.Array(MappingView) },
    }),
    (_request, reply) => {
      tagVersion(audit, reply);
      return [...mappings.all()];
    },
  );
  app.put(
    '/api/payload-mappings/:id',
    describeRoute('set-up-lab', 'set-up', 'Add or change a mapping', {
      description:
        'With `isOn: false` its topics are followed and what comes is shown in quarantine, where a trial finds it.',
      params: Params,
      body: MappingBody,
      response: { 200: MappingView },
    }),
    (request) => {
      const after: PayloadMapping = { id: request.params.id, ...request.body };
      refuseFault(after);
      const all = mappings.all();
      const before = all.find(({ id }) => id === after.id);
      if (before === undefined && all.length >= MOST_MAPPINGS)
        throw new HttpProblem('too-many-mappings', { values: { most: MOST_MAPPINGS } });
      saveAudited(context, request, () => mappings.save(after), {
        action: 'mapping-saved',
        subject: ['mapping', after.id],
        before,
        after,
      });
      return after;
    },
  );
  app.delete(
    '/api/payload-mappings/:id',
    describeRoute('set-up-lab', 'set-up', 'Remove a mapping', {
      description: 'Its readings stay; its topics are no longer followed.',
      params: Params,
      response: { 200: Done },
    }),
    (request) => {
      const before = mappings.all().find(({ id }) => id === request.params.id);
      if (before === undefined)
        throw new HttpProblem('unknown-mapping', { values: { id: request.params.id } });
      saveAudited(context, request, () => mappings.remove(before.id), {
        action: 'mapping-removed',
        subject: ['mapping', before.id],
        before,
      });
      return DONE;
    },
  );
};

export const mappingTrial = (app: App, { running }: ServerContext): void => {
  app.post(
    '/api/payload-mapping-trials',
    describeRoute('set-up-lab', 'set-up', 'Try a mapping over the newest real messages', {
      description:
        'Reads the messages of its topic that are in quarantine, newest first; nothing is stored by it.',
      body: MappingBody,
      response: { 200: MappingTrial },
    }),
    (request) => {
      const mapping: PayloadMapping = { id: 'trial', ...request.body, isOn: true };
      refuseFault(mapping);
      const say = sayToReader(request, running);
      return running
        .quarantine(ROWS)
        .filter(({ topic }) => filterParts(mapping.topic, topic) !== null)
        .slice(0, MOST_TRIED)
        .map((row) =>
          tryMapping(mapping, row, running.lab().site.id, (problem) => problemText(say, problem)),
        );
    },
  );
};

function tryMapping(
  mapping: PayloadMapping,
  row: QuarantineRow,
  site: string,
  say: (problem: Parameters<typeof problemText>[1]) => string,
): MappingTrial[number] {
  const head = { topic: row.topic, at: iso(row.lastAt) };
  if (row.bytes > SAMPLE_BYTES) return { ...head, isCut: true, readings: [], statuses: [], problems: [] };
  const message = { topic: row.topic, payload: row.sample, receivedAt: row.lastAt, site };
  const decoded = decodeMapped({ ...message, delivery: 'live' }, [mapping]);
  const readings = (decoded?.entries ?? []).flatMap((entry) =>
    entry.kind !== 'readings'
      ? []
      : [
          ...entry.readings.map(({ celsius, ...reading }) => ({
            ...reading,
            unit: 'Cel' as const,
            value: celsius,
          })),
          ...(entry.electrical ?? []),
        ],
  );
  return {
    ...head,
    isCut: false,
    readings: readings.map(({ probe, at, unit, value }) => ({ probe, at: iso(at), unit, value })),
    statuses: (decoded?.entries ?? []).flatMap((entry) =>
      entry.kind === 'device-status'
        ? entry.statuses.map(
            ({ probe, battery_percent = null, battery_volts = null, signal_dbm = null }) => ({
              probe: probe ?? '',
              battery_percent,
              battery_volts,
              signal_dbm,
            }),
          )
        : [],
    ),
    problems: (decoded?.rejections ?? []).map(({ code, values }) =>
      say({ code, ...(values !== undefined && { values }) }),
    ),
  };
}
