// Which night a request means, and for whom its sheet is worded.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import { NightDate, type NightSheet } from '../../../api/night.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { makeSheet } from '../../../reports/night/make-sheet.ts';
import { latestNight, nightAsHeld, type NightSpan } from '../../../reports/night/night-span.ts';
import { openSheetRecord, type SheetRecord } from '../../../reports/night/sheet-record.ts';
import { type SheetWords, sheetWords } from '../../../reports/night/sheet-words.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { AskedReader, type ReaderQuery, readerOf } from '../../sign-in/reader.ts';
import { inTurn } from '../common/in-turn.ts';
import { isDay } from '../common/is-day.ts';
import { orStoreAway } from '../common/store-away.ts';

export const NightQuery = {
  date: Type.Optional({ ...NightDate, description: 'Morning of the night, YYYY-MM-DD; absent: last night' }),
  ...AskedReader,
};

/** The night that was requested; one that has not begun has no sheet. */
export const nightAsked = (running: RunningLab, date: string | undefined, pointer: string): NightSpan => {
  const { site } = running.lab();
  const { siteAt } = running.repository.history;
  if (date === undefined) return nightAsHeld(siteAt, site, latestNight(site, running.now()).date);
  if (!isDay(date)) throw fieldProblem(pointer, 'field-not-a-day');
  const span = nightAsHeld(siteAt, site, date);
  if (span.from >= running.now()) throw new HttpProblem('night-ahead');
  return span;
};

export interface NightRequest {
  readonly span: NightSpan;
  readonly words: SheetWords;
}

export const nightRequest = (
  { running }: ServerContext,
  request: FastifyRequest,
  asked: ReaderQuery & { readonly date?: string },
): NightRequest => ({
  span: nightAsked(running, asked.date, '/querystring/date'),
  words: sheetWords(readerOf(request, running, asked), running.lab().site.timeZone),
});

export interface NightSheetMaker {
  readonly record: SheetRecord;
  readonly sheet: (request: FastifyRequest, night: NightRequest) => Promise<NightSheet>;
}

export const sheetMaker = (context: ServerContext): NightSheetMaker => {
  const { running, options } = context;
  const record = openSheetRecord(options.database);
  const maker = { running, alarmWords: options.alarmWords, record };
  return {
    record,
    sheet: (request, { span, words }) =>
      inTurn(context, request, () => orStoreAway(makeSheet(maker, span, words))),
  };
};
