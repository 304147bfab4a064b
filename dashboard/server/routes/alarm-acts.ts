// What people do to alarms: one route an act, all made from one table.

import { type Static, Type } from 'typebox';
import type { AlarmAct } from '../../../lab/act.ts';
import { ALARM_ACT_BODIES, type AlarmActBody, type AlarmActType } from '../../api/alarm-acts.ts';
import { AlarmView } from '../../api/schemas.ts';
import type { App } from '../base/app.ts';
import { instantOf } from '../base/instant.ts';
import { AskedReader, type ReaderQuery, readerOf } from '../sign-in/reader.ts';
import type { ServerContext } from '../context/server-context.ts';
import { authorOf } from '../sign-in/guard.ts';
import { alarmView } from '../views/alarm-view.ts';
import { perform } from './common/act.ts';
import { AlarmId, requireAlarm } from './alarms.ts';
import { describeRoute } from './common/describe-route.ts';

type Facts = { readonly alarm: string; readonly by: string };
const withReason = (facts: Facts, body: { readonly reason?: string }) =>
  body.reason === undefined || body.reason === '' ? facts : { ...facts, reason: body.reason };

interface ActRoute<Kind extends AlarmActType> {
  readonly summary: string;
  readonly description: string;
  readonly act: (facts: Facts, body: AlarmActBody<Kind>) => AlarmAct;
}

const ACT_ROUTES: { readonly [Kind in AlarmActType]: ActRoute<Kind> } = {
  acknowledge: {
    summary: 'Acknowledge the alarm',
    description: 'It says who saw it and stops the calling. It does not end the condition; needs no body.',
    act: (facts, body) => ({
      ...withReason(facts, body),
      type: 'acknowledge',
      ...(body.seenCount !== undefined && { seenCount: body.seenCount }),
    }),
  },
  reset: {
    summary: 'Let go of an alarm that latches',
    description: 'Refused while the condition holds, and before the alarm was acknowledged.',
    act: (facts, body) => ({ ...withReason(facts, body), type: 'reset' }),
  },
  shelve: {
    summary: 'Put the alarm aside for a while',
    description: 'It comes back by itself at `until`, at most eight hours ahead. The reason is kept.',
    act: (facts, body) => ({
      ...facts,
      type: 'shelve',
      until: instantOf(body.until, '/body/until'),
      reason: body.reason,
    }),
  },
  unshelve: {
    summary: 'Take the alarm back from the shelf',
    description: 'It calls again if its condition still holds.',
    act: (facts, body) => ({ ...withReason(facts, body), type: 'unshelve' }),
  },
  'take-out-of-service': {
    summary: 'Switch the alarm off until it is returned to service',
    description: 'For a probe under repair. It stays on the list as out of service; the reason is kept.',
    act: (facts, body) => ({ ...facts, type: 'take-out-of-service', reason: body.reason }),
  },
  'return-to-service': {
    summary: 'Switch the alarm on again',
    description: 'It is judged anew from the next reading.',
    act: (facts, body) => ({ ...withReason(facts, body), type: 'return-to-service' }),
  },
  note: {
    summary: 'Write a note into the history of the alarm',
    description: 'What was found, what was done. Notes stay.',
    act: (facts, body) => ({ ...facts, type: 'note', text: body.text }),
  },
};

const addRoute = <Kind extends AlarmActType>(app: App, context: ServerContext, kind: Kind): void => {
  const { running, options } = context;
  const route: ActRoute<Kind> = ACT_ROUTES[kind];
  const body = ALARM_ACT_BODIES[kind];
  app.post(
    `/api/alarms/:id/${kind}`,
    describeRoute('handle-alarms', 'alarms', route.summary, {
      description: route.description,
      params: AlarmId,
      querystring: Type.Object(AskedReader),
      body,
      response: { 200: AlarmView },
    }),
    async (request) => {
      const { id } = request.params as Static<typeof AlarmId>;
      requireAlarm(running, id);
      // Validated against the same entry of the table.
      const given = (request.body ?? {}) as AlarmActBody<Kind>;
      const act = route.act({ alarm: id, by: authorOf(request) }, given);
      await perform(context, request, act, () => running.alarm(id));
      return alarmView(
        running,
        options.alarmWords,
        requireAlarm(running, id),
        readerOf(request, running, request.query as ReaderQuery),
      );
    },
  );
};

export const alarmActRoutes = (app: App, context: ServerContext): void => {
  for (const kind of Object.keys(ALARM_ACT_BODIES) as AlarmActType[]) addRoute(app, context, kind);
};
