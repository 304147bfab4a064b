// Set-up: the lab as it is described, the rules whose figures may be set, and the site.

import { Type } from 'typebox';
import type { Site, Weekday } from '../../../lab/lab.ts';
import { LabView, RuleView, SiteBody } from '../../api/lab-bodies.ts';
import { ALL_RULES } from '../../../alerts/watch/rules/all-rules.ts';
import type { App } from '../base/app.ts';
import { changeLab } from '../context/lab-change.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { labView } from '../views/lab-view.ts';
import { answers } from './answers.ts';

/** Names only: an offset such as +02:00 knows no clock changes. */
const isTimeZone = (name: string): boolean => {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return /^[A-Za-z]/.test(name);
  } catch {
    return false;
  }
};

export const labRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { repository } = running;
  const config = { needs: 'set-up-lab' } as const;

  app.get(
    '/api/lab',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['set-up'],
        summary: 'The lab as it is described',
        description: 'Values that are absent are those of the wax class or the rule.',
        response: answers(LabView),
      },
    },
    () => labView(running.lab(), repository.isEmpty()),
  );
  app.get(
    '/api/rules',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['set-up'],
        summary: 'Every rule, what it sees and which figures of it may be set',
        response: answers(Type.Array(RuleView)),
      },
    },
    () => ALL_RULES.map((rule) => ({ ...rule, sees: rule.detects, parameters: { ...rule.parameters } })),
  );
  app.put(
    '/api/site',
    {
      config,
      schema: {
        tags: ['set-up'],
        summary: 'Set name, time zone, working hours and closed days',
        description:
          'A weekday that is not named is closed. The id of the site stands in every MQTT topic and is set by the lab file only.',
        body: SiteBody,
        response: answers(LabView),
      },
    },
    (request) => {
      const { reason, workingHours = {}, holidays = [], name, timeZone } = request.body;
      if (!isTimeZone(timeZone))
        throw new HttpProblem(
          'wrong-request',
          `"${timeZone}" is no time zone; use a name such as Europe/Berlin.`,
          {
            errors: [{ pointer: '/body/timeZone', detail: 'is not the name of a time zone' }],
          },
        );
      const before = running.lab().site;
      const hours = (day: Weekday) =>
        (workingHours[day] ?? []).map((span) => {
          const [opens = '', closes = ''] = span.split('-');
          return [opens, closes] as const;
        });
      const after: Site = {
        id: before.id,
        name,
        timeZone,
        workingHours: {
          mon: hours('mon'),
          tue: hours('tue'),
          wed: hours('wed'),
          thu: hours('thu'),
          fri: hours('fri'),
          sat: hours('sat'),
          sun: hours('sun'),
        },
        holidays,
      };
      const change = { action: 'site-saved', entity: 'site', entityId: before.id, before, after, reason };
      changeLab(context, request, { ...running.lab(), site: after }, change, () =>
        repository.saveSite(after),
      );
      return labView(running.lab(), repository.isEmpty());
    },
  );
};
