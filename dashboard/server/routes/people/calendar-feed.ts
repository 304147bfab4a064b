// The feed of duty and of patterns due, for calendars that have an address and nothing else: the key in it is the
// secret. It is made, shown once and taken back as the links of walls are (access-keys.ts).

import { Type } from 'typebox';
import { calendarFeed } from '../../../reports/calendar/calendar-feed.ts';
import { sayTo } from '../../../../words/load-languages.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { AskedReader, readerOf } from '../../sign-in/reader.ts';
import { fileAnswers } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';

export const calendarFeedRoute = (app: App, { running, signIn }: ServerContext): void => {
  app.get(
    '/api/calendar.ics',
    describeRoute('nothing', 'people', 'Duty and patterns due as iCalendar', {
      description:
        'For calendar programs. `key` is that of a calendar link; one that was revoked is answered as one that never was. ' +
        'Patterns are named by their id, never by case.',
      querystring: Type.Object({ key: Type.String({ maxLength: 200 }), ...AskedReader }),
      response: fileAnswers('text/calendar', 'RFC 5545'),
    }),
    async (request, reply) => {
      if (signIn.keys.find('calendar', request.query.key) === null) throw new HttpProblem('unknown-key');
      const reader = readerOf(request, running, request.query);
      return reply
        .type('text/calendar; charset=utf-8')
        .header('content-disposition', 'inline; filename="waxwarden.ics"')
        .send(calendarFeed(running, sayTo(reader, running.lab().site.timeZone)));
    },
  );
};
