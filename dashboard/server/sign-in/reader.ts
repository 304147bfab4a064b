// For whom an answer is worded: in which language, unit and clock. What the address names goes first, then what the
// signed-in person has set, then the browser's Accept-Language; at last English, degrees Celsius and 24 hours.

import type { FastifyRequest } from 'fastify';
import { type Static, Type } from 'typebox';
import { languageOf } from '../base/language.ts';
import { type Say, sayTo } from '../../../words/load-languages.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { actorOf } from './guard.ts';
import { personOf } from './actor.ts';

/** Properties of a query string, to be spread into that of a route. */
export const AskedReader = {
  lang: Type.Optional(
    Type.String({
      maxLength: 35,
      description: 'Language of the texts (`en`, `de`); absent: Accept-Language',
    }),
  ),
  unit: Type.Optional(
    Type.Union([Type.Literal('celsius'), Type.Literal('fahrenheit')], {
      description: 'Unit of the temperatures in texts; absent: what the person has set, else `celsius`',
    }),
  ),
  hours: Type.Optional(
    Type.Union([Type.Literal('h12'), Type.Literal('h23')], {
      description: 'Clock of the texts; absent: what the person has set, else `h23`',
    }),
  ),
};
const ReaderQuery = Type.Object(AskedReader);
export type ReaderQuery = Static<typeof ReaderQuery>;

/** Two readers with the same key read the same words. */
export const readerKey = ({ language, temperatureUnit, hourCycle }: ReaderSettings): string =>
  `${language} ${temperatureUnit} ${hourCycle}`;

/**
 * Messages for the requester, also when the request failed before its query was checked. A screen names its language by
 * Accept-Language, and that is the language of the sentence, whoever has signed in at it.
 */
export const sayToReader = (request: FastifyRequest, running: RunningLab): Say => {
  const { lang } = (request.query ?? {}) as Readonly<Record<string, unknown>>;
  const accepted = request.headers['accept-language'];
  const asked = typeof lang === 'string' ? lang : accepted && languageOf(undefined, accepted);
  const reader = readerOf(request, running, asked === undefined ? {} : { lang: asked });
  return sayTo(reader, running.lab().site.timeZone);
};

export const readerOf = (
  request: FastifyRequest,
  running: RunningLab,
  asked: ReaderQuery,
): ReaderSettings => {
  const person = personOf(actorOf(request), running);
  return {
    language: languageOf(asked.lang ?? person?.language, request.headers['accept-language']),
    temperatureUnit: asked.unit ?? person?.temperatureUnit ?? 'celsius',
    hourCycle: asked.hours ?? person?.hourCycle ?? 'h23',
  };
};
