// The tables of one place in the record: its readings, limits, times beyond them and probes. Data, drawn on paper and on a
// screen alike; each hands in how figures read there.

import type { MessageKey } from '../../../words/message-key.ts';
import type { EvidenceFigures, EvidencePlace, EvidenceProbe, LimitPeriod } from '../../api/evidence.ts';
import type { Column } from '../night/pdf-paper.ts';
import type { SheetWords } from '../night/sheet-words.ts';
import { beyondNone } from './beyond-none.ts';

export type RecordWords = Pick<
  SheetWords,
  'say' | 'word' | 'number' | 'celsius' | 'difference' | 'minutes' | 'moment' | 'day' | 'month'
>;

export interface RecordTable {
  readonly heading: MessageKey;
  /** Said first; in place of the table where it has no rows. */
  readonly first: MessageKey | null;
  readonly columns: readonly Column[];
  /** The first cell names the row. */
  readonly rows: readonly { readonly key: string; readonly cells: readonly string[] }[];
  /** How the figures were made. */
  readonly note?: string;
  /** What the table leaves out. */
  readonly more?: string;
}

type PlannedColumn = readonly [heading: MessageKey, share: number, align?: 'right'];
export const columnsOf = (words: RecordWords, columns: readonly PlannedColumn[]): readonly Column[] =>
  columns.map(([heading, share, align]) => ({ heading: words.say(heading), share, ...(align && { align }) }));

export const readingsTable = (
  place: EvidencePlace,
  step: 'day' | 'month',
  words: RecordWords,
): RecordTable => {
  const { say, number, celsius, minutes } = words;
  const row = (key: string, name: string, figures: EvidenceFigures) => ({
    key,
    cells: [
      name,
      number(figures.readings, 0),
      number(figures.doubtfulReadings, 0),
      celsius(figures.minCelsius),
      celsius(figures.maxCelsius),
      celsius(figures.meanCelsius),
      celsius(figures.meanKineticCelsius),
      figures.readings === 0 ? '–' : minutes(figures.minutesBeyond),
      minutes(figures.gapMinutes),
    ],
  });
  return {
    heading: 'evidence.readings',
    first: place.whole.readings === 0 ? 'evidence.no-readings' : null,
    columns: columnsOf(words, [
      [step === 'day' ? 'evidence.day' : 'evidence.month', 16],
      ['evidence.count', 9, 'right'],
      ['evidence.doubtful', 12, 'right'],
      ['evidence.least', 10, 'right'],
      ['evidence.most', 10, 'right'],
      ['evidence.mean', 10, 'right'],
      ['evidence.mean-kinetic', 12, 'right'],
      ['evidence.beyond-minutes', 11, 'right'],
      ['evidence.gaps', 10, 'right'],
    ]),
    rows: [
      ...place.steps.map((figures) => row(figures.from, words[step](figures.from), figures)),
      row('whole', say('evidence.whole'), place.whole),
    ],
    note: say('evidence.means-of', { width_minutes: place.meanOfMinutes }),
  };
};

const limitText = (limit: LimitPeriod['ceiling'], words: RecordWords): string =>
  limit === null ? '–' : `${words.celsius(limit.celsius)} (${words.word('standing', limit.standing)})`;

export const limitsTable = ({ limits }: EvidencePlace, words: RecordWords): RecordTable => {
  const { say, moment, word } = words;
  return {
    heading: 'evidence.limits',
    first: null,
    columns: columnsOf(words, [
      ['evidence.from', 15],
      ['evidence.to', 15],
      ['evidence.wax', 14],
      ['evidence.window', 22],
      ['evidence.ceiling', 14],
      ['evidence.storage-max', 14],
      ['evidence.night-swing', 10, 'right'],
    ]),
    rows: limits.map((period) => ({
      key: period.from,
      cells: [
        period.isRecorded ? moment(period.from) : `${moment(period.from)} (${say('evidence.not-recorded')})`,
        moment(period.to),
        period.wax === null ? '–' : word('wax', period.wax),
        period.windowLow === null && period.windowHigh === null
          ? '–'
          : `${limitText(period.windowLow, words)} – ${limitText(period.windowHigh, words)}`,
        limitText(period.ceiling, words),
        limitText(period.storageMax, words),
        period.largestNightSwingCelsius === null ? '–' : words.difference(period.largestNightSwingCelsius),
      ],
    })),
  };
};

export const beyondTable = (place: EvidencePlace, words: RecordWords): RecordTable => {
  const { say, moment, minutes, celsius } = words;
  return {
    heading: 'evidence.beyond',
    first: beyondNone(place),
    columns: columnsOf(words, [
      ['evidence.from', 20],
      ['evidence.to', 20],
      ['evidence.beyond-minutes', 15, 'right'],
      ['evidence.extreme', 15, 'right'],
      ['evidence.limit', 30, 'right'],
    ]),
    rows: place.beyond.map((run) => ({
      key: `${run.from} ${run.side}`,
      cells: [
        moment(run.from),
        moment(run.to),
        minutes(run.minutes),
        celsius(run.extremeCelsius),
        `${say(run.side === 'above' ? 'evidence.side.above' : 'evidence.side.below')} ${celsius(run.limitCelsius)}`,
      ],
    })),
    ...(place.beyondLeftOut > 0 && { more: say('evidence.beyond-more', { count: place.beyondLeftOut }) }),
  };
};

const certificateText = ({ certificate, ...probe }: EvidenceProbe, { say }: RecordWords): string => {
  const due = probe.calibrationDue === null ? '' : `; ${say('evidence.due', { day: probe.calibrationDue })}`;
  if (certificate === null)
    return (
      say('evidence.certificate-none', { correction_celsius_difference: probe.correctionCelsius ?? 0 }) + due
    );
  const { day, reference, referenceUncertaintyCelsius } = certificate;
  return (
    say('evidence.certificate-of', {
      day,
      reference: reference ?? say('evidence.reference-none'),
      uncertainty_celsius_difference: referenceUncertaintyCelsius ?? 0,
    }) + due
  );
};

const pointsText = ({ certificate }: EvidenceProbe, { say }: RecordWords): string =>
  (certificate?.points ?? [])
    .map((point) =>
      say('evidence.point', {
        reference_celsius: point.referenceCelsius,
        found_celsius_difference: point.asFoundErrorCelsius,
        left_celsius_difference: point.asLeftErrorCelsius,
      }),
    )
    .join('; ') || '–';

export const probeTable = ({ probes }: EvidencePlace, words: RecordWords): RecordTable => ({
  heading: 'evidence.probes',
  first: probes.length === 0 ? 'evidence.probes-none' : null,
  columns: columnsOf(words, [
    ['evidence.probe', 14],
    ['evidence.from', 13],
    ['evidence.to', 13],
    ['evidence.uncertainty', 12, 'right'],
    ['evidence.certificate', 24],
    ['evidence.points', 24],
  ]),
  rows: probes.map((probe) => ({
    key: `${probe.probe} ${probe.from}`,
    cells: [
      probe.probe,
      words.moment(probe.from),
      words.moment(probe.to),
      probe.uncertaintyCelsius === null ? '–' : words.difference(probe.uncertaintyCelsius),
      certificateText(probe, words),
      pointsText(probe, words),
    ],
  })),
});
