// The wax in the pots: changed, topped up, cleaned; loads of an annealer; heaters planned off and on.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import type { StationAct } from '../../../lab/act.ts';
import type { Charge } from '../../../lab/charge.ts';
import { labsWaxClass } from '../../../lab/limits.ts';
import type { Station } from '../../../lab/station.ts';
import { holdsMeltedWax } from '../../../lab/station-kinds.ts';
import {
  ChangeChargeBody,
  ChargeCourseView,
  ChargeView,
  LoadInBody,
  NothingBody,
  TakeBackBody,
  TopUpBody,
} from '../../api/patterns.ts';
import type { App } from '../base/app.ts';
import { iso } from '../base/instant.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { actorName } from '../sign-in/actor.ts';
import { actorOf } from '../sign-in/guard.ts';
import { shortId } from '../sign-in/secret.ts';
import { chargeCourseView } from '../views/charge-course-view.ts';
import { perform } from './act.ts';
import { answers, DONE, Done } from './answers.ts';
import { afterTakingBack, doneAt, newestAct, withTopUp } from './charge-records.ts';
import { knownStation, StationId } from './stations.ts';

export const chargeRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { repository } = running;
  const config = { needs: 'tend-stations' } as const;
  const tags = ['charges'];

  const view = (charge: Charge): ChargeView => {
    const lab = running.lab();
    const status = running.statuses().find((one) => one.station === charge.station);
    const isNow = charge.endedAt === null;
    return {
      ...charge,
      stationName: lab.stations.find(({ id }) => id === charge.station)?.name ?? charge.station,
      wax: { id: charge.wax, name: labsWaxClass(charge.wax, lab).name },
      topUps: [...charge.topUps],
      doseShare: isNow ? (status?.doseShare ?? null) : null,
      doseEquivalentHours: isNow ? (status?.doseEquivalentHours ?? null) : null,
      takenBack: charge.takenBack ?? null,
      newestAct: newestAct(charge, running.now()),
    };
  };
  const present = (station: string): Charge | null =>
    running.lab().charges.find((one) => one.station === station && one.endedAt === null) ?? null;
  const knownPot = (id: string): Station => {
    const station = knownStation(running, id);
    if (!holdsMeltedWax(station.kind))
      throw new HttpProblem('not-a-pot', `${station.name} is a ${station.kind}; only pots hold a charge.`);
    return station;
  };
  const knownCharge = (station: Station): Charge => {
    const charge = present(station.id);
    if (charge === null)
      throw new HttpProblem('no-charge', `Say first which wax is in ${station.name}: change its charge.`);
    return charge;
  };
  /** The act first: what the journal does not hold has not happened. */
  const act = async (request: FastifyRequest, station: string, done: StationActOf, save?: () => void) => {
    const facts = { station, by: actorName(actorOf(request)) };
    await perform(context, request, { ...facts, ...done } as StationAct, () => present(station), save);
  };

  app.get(
    '/api/charges',
    {
      config: { needs: 'read' },
      schema: {
        tags,
        summary: 'The charges of wax, those in the pots and those that ended',
        description:
          'Newest first. The dose is in hours at the reference temperature of the wax (Arrhenius).',
        querystring: Type.Object({ station: Type.Optional(Type.String({ maxLength: 64 })) }),
        response: answers(Type.Array(ChargeView)),
      },
    },
    (request) => repository.allCharges(request.query.station).map(view),
  );
  app.get(
    '/api/charges/:id/course',
    {
      config: { needs: 'read' },
      schema: {
        tags,
        summary: 'The heat dose of a charge along the way, the day it is spent, and what would spare it',
        description:
          'From means of the store, so its end may differ a little from the running dose. The forecast carries the habits of the last fortnight on.',
        params: Type.Object({ id: Type.String({ maxLength: 60 }) }),
        response: answers(ChargeCourseView),
      },
    },
    (request) => {
      const charge = repository.allCharges().find(({ id }) => id === request.params.id);
      if (charge === undefined)
        throw new HttpProblem('no-charge', `There is no charge "${request.params.id}".`);
      return chargeCourseView(running, charge);
    },
  );
  app.post(
    '/api/stations/:id/charge',
    {
      config,
      schema: {
        tags,
        summary: 'Say that the pot was emptied and filled with fresh wax',
        description: 'The charge before ends; the heat dose starts at nought.',
        params: StationId,
        body: ChangeChargeBody,
        response: answers(ChargeView),
      },
    },
    async (request) => {
      const station = knownPot(request.params.id);
      const { wax, grams, reason } = request.body;
      const at = doneAt(request.body.at, running.now(), present(station.id));
      const startedAt = iso(at ?? running.now());
      const charge: Charge = {
        id: `${station.id}-${shortId(6)}`,
        station: station.id,
        wax,
        grams,
        startedAt,
        topUps: [],
        cleanedAt: startedAt,
        endedAt: null,
      };
      await act(
        request,
        station.id,
        {
          type: 'charge-changed',
          id: charge.id,
          wax,
          grams,
          ...(at !== undefined && { at }),
          ...(reason === undefined ? {} : { reason }),
        },
        () => {
          const before = present(station.id);
          if (before !== null) repository.saveCharge({ ...before, endedAt: startedAt });
          repository.saveCharge(charge);
        },
      );
      return view(charge);
    },
  );
  app.post(
    '/api/stations/:id/top-up',
    {
      config,
      schema: {
        tags,
        summary: 'Say that fresh wax was added',
        description: 'The dose falls by the share of fresh wax: added grams over the grams of a full charge.',
        params: StationId,
        body: TopUpBody,
        response: answers(ChargeView),
      },
    },
    async (request) => {
      const station = knownPot(request.params.id);
      const charge = knownCharge(station);
      const fraction = Math.min(1, request.body.grams / charge.grams);
      const at = doneAt(request.body.at, running.now(), charge);
      const id = shortId(6);
      const topUp = { id, at: iso(at ?? running.now()), fraction, by: actorName(actorOf(request)) };
      const after = withTopUp(charge, topUp);
      const done = { type: 'topped-up', id, fraction, ...(at !== undefined && { at }) } as const;
      await act(request, station.id, done, () => repository.saveCharge(after));
      return view(after);
    },
  );
  app.post(
    '/api/stations/:id/take-back',
    {
      config,
      schema: {
        tags,
        summary: 'Take back the newest change of charge or top-up',
        description:
          'For what was entered by mistake, within 24 hours: the charge before goes on, and its heat dose has counted all the while.',
        params: StationId,
        body: TakeBackBody,
        response: answers(Type.Array(ChargeView)),
      },
    },
    async (request) => {
      const station = knownPot(request.params.id);
      const { id, reason } = request.body;
      const charge = knownCharge(station);
      if (newestAct(charge, running.now())?.id !== id)
        throw new HttpProblem(
          'nothing-to-take-back',
          'Only the newest change or top-up can be taken back, within 24 hours. Look at the charge again.',
        );
      const by = actorName(actorOf(request));
      const all = repository.allCharges(station.id);
      const after = afterTakingBack(charge, all, running.now(), { by, reason });
      await act(request, station.id, { type: 'charge-taken-back', id, reason }, () => {
        for (const one of after) repository.saveCharge(one);
      });
      return repository.allCharges(station.id).map(view);
    },
  );
  app.post(
    '/api/stations/:id/cleaned',
    {
      config,
      schema: {
        tags,
        summary: 'Say that the pot was cleaned',
        params: StationId,
        body: NothingBody,
        response: answers(Done),
      },
    },
    async (request) => {
      const station = knownPot(request.params.id);
      const charge = present(station.id);
      await act(request, station.id, { type: 'cleaned', ...request.body }, () => {
        if (charge !== null) repository.saveCharge({ ...charge, cleanedAt: iso(running.now()) });
      });
      return DONE;
    },
  );
  app.post(
    '/api/stations/:id/load-in',
    {
      config,
      schema: {
        tags,
        summary: 'Say that a load was laid in',
        params: StationId,
        body: LoadInBody,
        response: answers(Done),
      },
    },
    async (request) => {
      const station = knownStation(running, request.params.id);
      await act(request, station.id, { type: 'load-in', load: request.body.load });
      return DONE;
    },
  );
  const plain = {
    'load-out': 'Say that the load was taken out',
    'planned-off': 'Say that the heater is off on purpose',
    'planned-on': 'Say that the heater stays on on purpose, outside working hours',
  } as const;
  for (const type of Object.keys(plain) as (keyof typeof plain)[])
    app.post(
      `/api/stations/:id/${type}`,
      {
        config,
        schema: { tags, summary: plain[type], params: StationId, body: NothingBody, response: answers(Done) },
      },
      async (request) => {
        const { id } = request.params as { id: string };
        const { reason } = request.body as { reason?: string };
        await act(request, knownStation(running, id).id, {
          type,
          ...(reason === undefined ? {} : { reason }),
        });
        return DONE;
      },
    );
};

type Without<A> = A extends unknown ? Omit<A, 'station' | 'by'> : never;
type StationActOf = Without<StationAct>;
