// Set-up: stations and probes. Nothing here switches anything on.

import { Type } from 'typebox';
import { UNCERTAINTY_UNTIL_CALIBRATED } from '../../../lab/lab-file-defaults.ts';
import type { Station } from '../../../lab/station.ts';
import { ProbeBody, StationBody } from '../../api/lab-bodies.ts';
import { ProbeView, StationView } from '../../api/schemas.ts';
import type { App } from '../base/app.ts';
import { changeLab } from '../context/lab-change.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { probeView } from '../views/probe-view.ts';
import { stationTrends } from '../views/station-trend.ts';
import { stationView } from '../views/station-view.ts';
import { answers, DONE, Done } from './answers.ts';
import { knownStation } from './stations.ts';

const StationParams = Type.Object({
  id: Type.String({
    pattern: '^[A-Za-z0-9][A-Za-z0-9-]{0,39}$',
    description: 'Letters, digits and `-`, at most 40',
  }),
});
const ProbeParams = Type.Object({ id: Type.String({ pattern: '^[A-Za-z0-9._-]{1,64}$' }) });

const replaced = <T extends { readonly id: string }>(list: readonly T[], one: T): readonly T[] =>
  list.some(({ id }) => id === one.id) ? list.map((old) => (old.id === one.id ? one : old)) : [...list, one];

export const stationSetUpRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { repository } = running;
  const config = { needs: 'set-up-lab' } as const;
  const trend = stationTrends(running);

  app.put(
    '/api/stations/:id',
    {
      config,
      schema: {
        tags: ['set-up'],
        summary: 'Add or change a station',
        description:
          'The whole description; a field that is absent falls back to the wax class. Hot wax burns and its vapour can ' +
          "ignite: a heater needs its own thermal cut-out and somebody nearby, and the maker's instructions come first.",
        params: StationParams,
        body: StationBody,
        response: answers(StationView),
      },
    },
    (request) => {
      const { reason, wax, window_celsius: window, ...rest } = request.body;
      const [low, high] = window ?? [];
      const lab = running.lab();
      const after: Station = {
        id: request.params.id,
        ...rest,
        wax: wax ?? null,
        ...(low === undefined || high === undefined ? {} : { window_celsius: [low, high] as const }),
      };
      const before = lab.stations.find((one) => one.id === after.id);
      const change = {
        action: 'station-saved',
        entity: 'station',
        entityId: after.id,
        before,
        after,
        reason,
      };
      changeLab(context, request, { ...lab, stations: replaced(lab.stations, after) }, change, () =>
        repository.saveStation(after),
      );
      return stationView(running, trend, knownStation(running, after.id));
    },
  );
  app.delete(
    '/api/stations/:id',
    {
      config,
      schema: {
        tags: ['set-up'],
        summary: 'Remove a station',
        description:
          'Its probes become unclaimed; its readings and alarms stay. Refused while patterns lie there.',
        params: StationParams,
        response: answers(Done),
      },
    },
    (request) => {
      const lab = running.lab();
      const before = knownStation(running, request.params.id);
      const lying = lab.patterns.filter((one) => one.stays.at(-1)?.station === before.id);
      if (lying.length > 0)
        throw new HttpProblem(
          'station-in-use',
          `Move its patterns first: ${lying.map(({ id }) => id).join(', ')}.`,
        );
      const change = { action: 'station-removed', entity: 'station', entityId: before.id, before };
      const after = {
        ...lab,
        stations: lab.stations.filter(({ id }) => id !== before.id),
        probes: lab.probes.map((one) => (one.station === before.id ? { ...one, station: null } : one)),
      };
      changeLab(context, request, after, change, () => repository.removeStation(before.id));
      return DONE;
    },
  );
  app.put(
    '/api/probes/:id',
    {
      config,
      schema: {
        tags: ['set-up'],
        summary: 'Give a probe to a station, enter its calibration',
        description:
          'The probe must have been heard, or be of the lab. Without `station` it becomes unclaimed. ' +
          '`correction_celsius` is added to every reading from now on, or `calibration` corrects it by its points; ' +
          'readings that are stored keep theirs.',
        params: ProbeParams,
        body: ProbeBody,
        response: answers(ProbeView),
      },
    },
    (request) => {
      const { id } = request.params;
      const lab = running.lab();
      const before = lab.probes.find((one) => one.id === id);
      const gateway = before?.gateway ?? running.seenProbes().find((one) => one.id === id)?.gateway;
      if (gateway === undefined)
        throw new HttpProblem(
          'unknown-probe',
          `No probe "${id}" was ever heard; publish a reading of it first.`,
        );
      const { reason, station, correction_celsius, uncertainty_celsius, ...rest } = request.body;
      const after = {
        id,
        gateway,
        station: station ?? null,
        correction_celsius: correction_celsius ?? 0,
        uncertainty_celsius: uncertainty_celsius ?? UNCERTAINTY_UNTIL_CALIBRATED,
        ...rest,
      };
      const change = { action: 'probe-saved', entity: 'probe', entityId: id, before, after, reason };
      changeLab(context, request, { ...lab, probes: replaced(lab.probes, after) }, change, () =>
        repository.saveProbe(after),
      );
      const view = probeView(running, id);
      if (view === null) throw new Error(`The probe ${id} was saved and is not there.`);
      return view;
    },
  );
};
