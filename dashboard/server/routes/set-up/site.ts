// Set-up: name, time zone, working hours and closed days of the site.

import type { Static } from 'typebox';
import { type Site, WEEKDAYS, type Weekday } from '../../../../lab/lab.ts';
import { isTimeZone } from '../../../../lab/time-zone.ts';
import { LabView, SiteBody } from '../../../api/lab-bodies.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem } from '../../base/problem.ts';
import { changeLab } from '../../context/lab-change.ts';
import { versionOf } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { labView } from '../../views/lab-view.ts';
import { describeRoute } from '../common/describe-route.ts';

const spansOf = (texts: readonly string[] = []): Site['workingHours'][Weekday] =>
  texts.map((span) => {
    const [opens = '', closes = ''] = span.split('-');
    return [opens, closes] as const;
  });

const siteOf = (id: string, body: Static<typeof SiteBody>): Site => ({
  id,
  name: body.name,
  timeZone: body.timeZone,
  workingHours: Object.fromEntries(
    WEEKDAYS.map((day) => [day, spansOf(body.workingHours?.[day])]),
  ) as Site['workingHours'],
  holidays: body.holidays ?? [],
  ...(body.patternCare !== undefined && { patternCare: body.patternCare }),
  ...(body.rules !== undefined && { rules: body.rules }),
});

export const saveSite = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { repository } = running;
  app.put(
    '/api/site',
    describeRoute(
      'set-up-lab',
      'set-up',
      'Set name, time zone, working hours, closed days and the rules of the whole lab',
      {
        description:
          'A weekday that is not named is closed. The id of the site is in every MQTT topic and is set by the lab file only.',
        body: SiteBody,
        response: { 200: LabView },
      },
    ),
    (request) => {
      const { reason, timeZone } = request.body;
      if (!isTimeZone(timeZone))
        throw fieldProblem('/body/timeZone', 'field-not-a-time-zone', { name: timeZone });
      const before = running.lab().site;
      const after = siteOf(before.id, request.body);
      changeLab(context, request, { ...running.lab(), site: after }, () => repository.saveSite(after), {
        action: 'site-saved',
        subject: ['site', before.id],
        before,
        after,
        reason,
      });
      return labView(running.lab(), repository.isEmpty(), versionOf(context.audit));
    },
  );
};
