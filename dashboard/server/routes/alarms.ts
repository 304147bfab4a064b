// Alarms, worded for the reader.

import { Type } from 'typebox';
import { epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import { AlarmView } from '../../api/schemas.ts';
import { Instant } from '../../api/schema-parts.ts';
import type { App } from '../base/app.ts';
import { instantOf } from '../base/instant.ts';
import { HttpProblem } from '../base/problem.ts';
import { AskedReader, readerOf } from '../sign-in/reader.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerContext } from '../context/server-context.ts';
import { alarmStation } from '../../queries/alarm-station.ts';
import { alarmView } from '../views/alarm-view.ts';
import { describeRoute } from './common/describe-route.ts';

const MOST_ALARMS = 2000;

export const AlarmId = Type.Object({ id: Type.String({ maxLength: 300, description: 'Id of the alarm' }) });

export const requireAlarm = (running: RunningLab, id: string): Alarm => {
  const alarm = running.alarm(id);
  if (alarm === null) throw new HttpProblem('unknown-alarm', { values: { id } });
  return alarm;
};

export const alarmRoutes = (app: App, { running, options }: ServerContext): void => {
  app.get(
    '/api/alarms',
    describeRoute('see-wall', 'alarms', 'Alarms that are not over, or all of a span', {
      description:
        'Newest first. `state=open` gives what still asks for something, shelved and suppressed ones included; ' +
        '`state=all` what was raised between `from` and `to`, over ones too.',
      querystring: Type.Object({
        state: Type.Optional(Type.Union([Type.Literal('open'), Type.Literal('all')], { default: 'open' })),
        from: Type.Optional({ ...Instant, description: 'With `state=all`; absent: thirty days before `to`' }),
        to: Type.Optional({ ...Instant, description: 'With `state=all`; absent: now' }),
        station: Type.Optional(
          Type.String({ maxLength: 64, description: 'Only those of this station, its probes and patterns' }),
        ),
        limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_ALARMS, default: 200 })),
        ...AskedReader,
      }),
      response: { 200: Type.Array(AlarmView) },
    }),
    (request) => {
      const { state = 'open', limit = 200, station } = request.query;
      const to =
        request.query.to === undefined ? running.now() : instantOf(request.query.to, '/querystring/to');
      const from =
        request.query.from === undefined
          ? epochMillis(to - 30 * MILLIS_PER_DAY)
          : instantOf(request.query.from, '/querystring/from');
      const all = state === 'open' ? running.openAlarms() : running.alarmsBetween(from, to, MOST_ALARMS);
      const lab = running.lab();
      const alarms = all
        .filter((alarm) => station === undefined || alarmStation(lab, alarm) === station)
        .slice(0, limit);
      const reader = readerOf(request, running, request.query);
      return alarms.map((alarm) => alarmView(running, options.alarmWords, alarm, reader));
    },
  );
  app.get(
    '/api/alarms/:id',
    describeRoute('see-wall', 'alarms', 'One alarm with its history', {
      params: AlarmId,
      querystring: Type.Object(AskedReader),
      response: { 200: AlarmView },
    }),
    (request) =>
      alarmView(
        running,
        options.alarmWords,
        requireAlarm(running, request.params.id),
        readerOf(request, running, request.query),
      ),
  );
};
