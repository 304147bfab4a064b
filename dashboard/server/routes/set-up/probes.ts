// Set-up: a probe is given to a station and gets its calibration.

import { Type } from 'typebox';
import { uncertaintyUntilCalibrated } from '../../../../lab/lab-file-defaults.ts';
import { ProbeBody } from '../../../api/lab-bodies.ts';
import { ProbeView } from '../../../api/schemas.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { changeLab } from '../../context/lab-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { probeView } from '../../views/probe-view.ts';
import { answers } from '../common/answers.ts';
import { withReplaced } from './with-replaced.ts';

const ProbeParams = Type.Object({ id: Type.String({ pattern: '^[A-Za-z0-9._-]{1,64}$' }) });

export const saveProbe = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.put(
    '/api/probes/:id',
    {
      config: { needs: 'set-up-lab' },
      schema: {
        tags: ['set-up'],
        summary: 'Give a probe to a station, enter its calibration',
        description:
          'A reading of the probe must have been received, or the probe must be of the lab. Without `station` it becomes unclaimed. ' +
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
      const before = lab.probes.find((probe) => probe.id === id);
      const gateway =
        before?.gateway ??
        running.seenProbes().find((probe) => probe.id === id)?.gateway ??
        running.seenElectrical().get(id)?.gateway;
      if (gateway === undefined) throw new HttpProblem('unknown-probe', { values: { id } });
      const { reason, station, correction_celsius, uncertainty_celsius, ...rest } = request.body;
      const after = {
        id,
        gateway,
        station: station ?? null,
        correction_celsius: correction_celsius ?? 0,
        uncertainty_celsius: uncertainty_celsius ?? uncertaintyUntilCalibrated(rest.sensor),
        ...rest,
      };
      const change = { action: 'probe-saved', entity: 'probe', entityId: id, before, after, reason };
      changeLab(context, request, { ...lab, probes: withReplaced(lab.probes, after) }, change, () =>
        running.repository.saveProbe(after),
      );
      const view = probeView(running, id);
      if (view === null) throw new Error(`The probe ${id} was saved and is not there.`);
      return view;
    },
  );
};
