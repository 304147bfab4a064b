// How good the alarms of a span were, by the key figures of the standard, each beside its target.

import { Type } from 'typebox';
import { alarmQuality } from '../../../alerts/watch/quality/alarm-quality.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import { AlarmQualityView } from '../../api/alarm-quality.ts';
import { Instant } from '../../api/schema-parts.ts';
import type { App } from '../base/app.ts';
import { instantOf } from '../base/instant.ts';
import { fieldProblem } from '../base/problem.ts';
import { subjectNames } from '../../queries/subject-name.ts';
import { targetView } from '../../queries/source-view.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerContext } from '../context/server-context.ts';
import { describeRoute } from './common/describe-route.ts';
import { iso } from '../../../wax/iso.ts';

/** Read before the span as well, so that what stood at its start is known. */
const BEFORE_MILLIS = 2 * MILLIS_PER_DAY;
const MOST_CHANGES = 100_000;
const MOST_DAYS = 366;
const MOST_ROWS = 200;

/** Days before the first reading had no alarms because nothing was watched: they must not better the figures. */
const startOfMeasuring = (running: RunningLab, from: EpochMillis, to: EpochMillis): EpochMillis => {
  const since = running.seenProbes().reduce<number>((first, probe) => Math.min(first, probe.firstSeen), to);
  return since > from && since < to ? epochMillis(since) : from;
};

export const alarmQualityRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/alarm-quality',
    describeRoute('read', 'alarms', 'How good the alarms of a span were', {
      description:
        'The key figures of ISA-18.2 / IEC 62682 with their targets, counted from the history of alarms. An alarm ' +
        'counts each time it asks for attention; what is shelved, suppressed or out of service asks nobody. The ' +
        'targets are meant for thirty days or more; `isBasis` says whether the span has them. The span begins no earlier than the first reading.',
      querystring: Type.Object({
        from: Type.Optional({ ...Instant, description: 'Absent: one day before `to`' }),
        to: Type.Optional({ ...Instant, description: 'Exclusive; absent: now' }),
      }),
      response: { 200: AlarmQualityView },
    }),
    ({ query }) => {
      const now = running.now();
      const asked = query.to === undefined ? now : instantOf(query.to, '/querystring/to');
      const to = epochMillis(Math.min(asked, now));
      const begin =
        query.from === undefined
          ? epochMillis(to - MILLIS_PER_DAY)
          : instantOf(query.from, '/querystring/from');
      if (!(begin < to) || to - begin > MOST_DAYS * MILLIS_PER_DAY)
        throw fieldProblem('/querystring/from', 'field-span-too-long', { days: MOST_DAYS });
      const from = startOfMeasuring(running, begin, to);
      const lab = running.lab();
      const changes = running.alarmChangesBetween(epochMillis(from - BEFORE_MILLIS), to, MOST_CHANGES);
      const quality = alarmQuality({ from, to, site: lab.site, changes, open: running.openAlarms() });
      const nameOf = subjectNames(running, lab.stations);
      return {
        from: iso(from),
        to: iso(to),
        days: quality.days,
        isBasis: quality.isBasis,
        isWhole: changes.length < MOST_CHANGES,
        announced: quality.announced,
        figures: quality.figures.map((figure) => ({ ...figure, ...targetView(figure.name) })),
        daily: [...quality.daily],
        busiest: quality.busiest,
        floods: quality.floods.map((flood) => ({ ...flood, from: iso(flood.from), to: iso(flood.to) })),
        contributors: quality.contributors
          .slice(0, MOST_ROWS)
          .map((row) => ({ ...row, subjectName: nameOf(row.subject) })),
        hidden: quality.hidden
          .slice(-MOST_ROWS)
          .map((row) => ({ ...row, at: iso(row.at), subjectName: nameOf(row.subject) })),
      };
    },
  );
};
