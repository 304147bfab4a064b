// Set-up: a probe is given to a station and gets its calibration, another takes its place, it is forgotten.

import type { FastifyRequest } from 'fastify';
import { Type } from 'typebox';
import { uncertaintyUntilCalibrated } from '../../../../lab/lab-file/lab-file-defaults.ts';
import { ProbeBody } from '../../../api/lab-bodies.ts';
import { ForgottenView, ReplacementBody } from '../../../api/probe-detail.ts';
import { ProbeView } from '../../../api/schemas.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { changeLab } from '../../context/lab-change.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { Probe } from '../../../../lab/lab.ts';
import { isoDayAt } from '../../../../lab/calendar.ts';
import { probeView, probeViews } from '../../views/probe-view.ts';
import { perform } from '../common/act.ts';
import { describeRoute } from '../common/describe-route.ts';
import { withReplaced } from './with-replaced.ts';

const ProbeParams = Type.Object({ id: Type.String({ pattern: '^[A-Za-z0-9._-]{1,64}$' }) });

const findProbe = (running: RunningLab, id: string): Probe | undefined =>
  running.lab().probes.find((probe) => probe.id === id);

/** @throws HttpProblem where the probe is neither in the lab nor in any reading. */
const gatewayOf = (running: RunningLab, id: string): string => {
  const gateway =
    findProbe(running, id)?.gateway ?? running.seenProbe(id)?.gateway ?? running.electrical(id)?.gateway;
  if (gateway === undefined) throw new HttpProblem('unknown-probe', { values: { id } });
  return gateway;
};

const refuseInUse = (probe: Probe | undefined): void => {
  if (probe !== undefined && probe.station !== null)
    throw new HttpProblem('probe-in-use', { values: { id: probe.id, station: probe.station } });
};

export const saveProbe = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.put(
    '/api/probes/:id',
    describeRoute('set-up-lab', 'set-up', 'Give a probe to a station, enter its calibration', {
      description:
        'A reading of the probe must have been received, or the probe must be of the lab. Without `station` it becomes unclaimed. ' +
        '`correction_celsius` is added to every reading from now on, or `calibration` corrects it by its points; ' +
        'readings that are stored keep theirs.',
      params: ProbeParams,
      body: ProbeBody,
      response: { 200: ProbeView },
    }),
    (request) => {
      const { id } = request.params;
      const lab = running.lab();
      const before = findProbe(running, id);
      const gateway = gatewayOf(running, id);
      const { reason, station, correction_celsius, uncertainty_celsius, ...rest } = request.body;
      const after = {
        id,
        gateway,
        station: station ?? null,
        correction_celsius: correction_celsius ?? 0,
        uncertainty_celsius: uncertainty_celsius ?? uncertaintyUntilCalibrated(rest.sensor),
        ...rest,
      };
      changeLab(
        context,
        request,
        { ...lab, probes: withReplaced(lab.probes, after) },
        () => running.repository.saveProbe(after),
        { action: 'probe-saved', subject: ['probe', id], before, after, reason },
      );
      const view = probeView(running, id);
      if (view === null) throw new Error(`The probe ${id} was saved and is not there.`);
      return view;
    },
  );
};

export const replaceProbe = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/probes/:id/replacement',
    describeRoute('set-up-lab', 'set-up', 'Let another probe take the place of one that is broken', {
      description:
        'The broken probe is retired and the other one belongs to its station from now on. The history of the station ' +
        'stays whole: what each measured while it was there.',
      params: ProbeParams,
      body: ReplacementBody,
      response: { 200: ProbeView },
    }),
    (request) => {
      const { id } = request.params;
      const { by, reason } = request.body;
      const lab = running.lab();
      const broken = findProbe(running, id);
      if (broken === undefined) throw new HttpProblem('unknown-probe', { values: { id } });
      if (broken.station === null) throw new HttpProblem('probe-not-in-use', { values: { id } });
      const described = findProbe(running, by);
      const gateway = gatewayOf(running, by);
      refuseInUse(described);
      const { retiredOn: _, ...fresh } = described ?? {
        id: by,
        gateway,
        correction_celsius: 0,
        uncertainty_celsius: uncertaintyUntilCalibrated(undefined),
        retiredOn: undefined,
      };
      const after = { ...fresh, station: broken.station };
      const retired = { ...broken, station: null, retiredOn: isoDayAt(lab.site, running.now()) };
      const save = (): void => {
        // On the record of the other probe too: who has read it before must not take this back unseen.
        auditChange(context.audit, request, {
          action: 'probe-saved',
          subject: ['probe', by],
          before: described,
          after,
          reason,
        });
        running.repository.saveProbe(retired);
        running.repository.saveProbe(after);
      };
      const probes = withReplaced(withReplaced(lab.probes, retired), after);
      changeLab(context, request, { ...lab, probes }, save, {
        action: 'probe-replaced',
        subject: ['probe', id],
        before: broken,
        after: { retired, by: after },
        reason,
      });
      const view = probeView(running, by);
      if (view === null) throw new Error(`The probe ${by} was saved and is not there.`);
      return view;
    },
  );
};

export const forgetProbes = (app: App, context: ServerContext): void => {
  const { running } = context;
  const forget = async (request: FastifyRequest, probes: readonly string[]) => {
    const described = probes.filter((id) => findProbe(running, id) !== undefined);
    const act = { type: 'probes-forgotten', by: authorOf(request), probes } as const;
    if (probes.length > 0)
      await perform(
        context,
        request,
        act,
        () => probes.map((id) => findProbe(running, id) ?? { id }),
        () => {
          for (const id of described) running.repository.removeProbe(id);
        },
      );
    return { forgotten: [...probes] };
  };
  app.delete(
    '/api/probes/:id',
    describeRoute('set-up-lab', 'set-up', 'Forget a probe', {
      description:
        'It must belong to no station. Its readings stay as long as others do; if it sends again it is new.',
      params: ProbeParams,
      response: { 200: ForgottenView },
    }),
    (request) => {
      const { id } = request.params;
      refuseInUse(findProbe(running, id));
      gatewayOf(running, id);
      return forget(request, [id]);
    },
  );
  app.delete(
    '/api/gateways/:id/unclaimed-probes',
    describeRoute(
      'set-up-lab',
      'set-up',
      'Forget all probes of a gateway that have no station and are not retired',
      {
        description: 'Answers which they were. One that sends again is new.',
        params: ProbeParams,
        response: { 200: ForgottenView },
      },
    ),
    (request) =>
      forget(
        request,
        probeViews(running)
          .filter(({ claimed, retired, gateway }) => !claimed && !retired && gateway === request.params.id)
          .map(({ id }) => id),
      ),
  );
};
