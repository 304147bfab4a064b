// Set-up: stations are added, changed and removed. Nothing here switches anything on.

import { Type } from 'typebox';
import type { Station } from '../../../../lab/station.ts';
import { StationBody } from '../../../api/lab-bodies.ts';
import { StationView } from '../../../api/schemas.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { changeLab } from '../../context/lab-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { stationTrends } from '../../views/station-trend.ts';
import { stationView } from '../../views/station-view.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireStation } from '../common/station-of-request.ts';
import { withReplaced } from './with-replaced.ts';

const StationParams = Type.Object({
  id: Type.String({
    pattern: '^[A-Za-z0-9][A-Za-z0-9-]{0,39}$',
    description: 'Letters, digits and `-`, at most 40',
  }),
});

export const saveStation = (app: App, context: ServerContext): void => {
  const { running } = context;
  const trend = stationTrends(running);
  app.put(
    '/api/stations/:id',
    describeRoute('set-up-lab', 'set-up', 'Add or change a station', {
      description:
        'The whole description; a field that is absent falls back to the wax class. Hot wax burns and its vapour can ' +
        "ignite: a heater needs its own thermal cut-out and somebody nearby, and the maker's instructions come first.",
      params: StationParams,
      body: StationBody,
      response: { 200: StationView },
    }),
    (request) => {
      const { reason, wax, window_celsius: window, ...rest } = request.body;
      const [low, high] = window ?? [];
      const lab = running.lab();
      const after: Station = {
        id: request.params.id,
        ...rest,
        wax: wax ?? null,
        ...(low !== undefined && high !== undefined && { window_celsius: [low, high] as const }),
      };
      const before = lab.stations.find(({ id }) => id === after.id);
      changeLab(
        context,
        request,
        { ...lab, stations: withReplaced(lab.stations, after) },
        () => running.repository.saveStation(after),
        { action: 'station-saved', subject: ['station', after.id], before, after, reason },
      );
      return stationView(running, trend, requireStation(running, after.id));
    },
  );
};

export const removeStation = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.delete(
    '/api/stations/:id',
    describeRoute('set-up-lab', 'set-up', 'Remove a station', {
      description:
        'Its probes become unclaimed; its readings and alarms stay. Refused while patterns lie there.',
      params: StationParams,
      response: { 200: Done },
    }),
    (request) => {
      const lab = running.lab();
      const before = requireStation(running, request.params.id);
      const lying = lab.patterns.filter(({ stays }) => stays.at(-1)?.station === before.id);
      if (lying.length > 0)
        throw new HttpProblem('station-in-use', {
          values: { patterns: lying.map(({ id }) => id).join(', ') },
        });
      const after = {
        ...lab,
        stations: lab.stations.filter(({ id }) => id !== before.id),
        probes: lab.probes.map((probe) =>
          probe.station === before.id ? { ...probe, station: null } : probe,
        ),
      };
      changeLab(context, request, after, () => running.repository.removeStation(before.id), {
        action: 'station-removed',
        subject: ['station', before.id],
        before,
      });
      return DONE;
    },
  );
};
