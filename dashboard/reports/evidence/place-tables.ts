// The tables of one place in the record: its readings, limits, times beyond them and probes. Data, drawn on paper and on a
// screen alike; each hands in how figures read there.

import type { MessageKey } from '../../../words/message-key.ts';
import type { EvidenceFigures, EvidencePlace, EvidenceProbe, LimitPeriod } from '../../api/evidence.ts';
import type { Column } from '../night/pdf-paper.ts';
import type { SheetWords } from '../night/sheet-words.ts';
import { noneBeyondKey } from './none-beyond-key.ts';

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

type PlannedColumn<Row> = readonly [
  heading: MessageKey,
  share: number,
  text: (row: Row) => string,
  align?: 'right',
];
/** Each heading is planned beside what is below it. */
export const tableOf = <Row>(
  { say }: RecordWords,
  rows: readonly Row[],
  keyOf: (row: Row) => string,
  columns: readonly PlannedColumn<Row>[],
): Pick<RecordTable, 'columns' | 'rows'> => ({
  columns: columns.map(([heading, share, , align]) => ({
    heading: say(heading),
    share,
    ...(align && { align }),
  })),
  rows: rows.map((row) => ({ key: keyOf(row), cells: columns.map(([, , text]) => text(row)) })),
});

export const readingsTable = (
  place: EvidencePlace,
  step: 'day' | 'month',
  words: RecordWords,
): RecordTable => {
  const { say, number, celsius, minutes } = words;
  const rows: readonly (EvidenceFigures & { readonly key: string; readonly name: string })[] = [
    ...place.steps.map((figures) => ({ ...figures, key: figures.from, name: words[step](figures.from) })),
    { ...place.whole, key: 'whole', name: say('evidence.whole') },
  ];
  return {
    heading: 'evidence.readings',
    first: place.whole.readings === 0 ? 'evidence.no-readings' : null,
    ...tableOf(words, rows, ({ key }) => key, [
      [step === 'day' ? 'evidence.day' : 'evidence.month', 16, ({ name }) => name],
      ['evidence.count', 9, ({ readings }) => number(readings, 0), 'right'],
      ['evidence.doubtful', 12, ({ doubtfulReadings }) => number(doubtfulReadings, 0), 'right'],
      ['evidence.least', 10, ({ minCelsius }) => celsius(minCelsius), 'right'],
      ['evidence.most', 10, ({ maxCelsius }) => celsius(maxCelsius), 'right'],
      ['evidence.mean', 10, ({ meanCelsius }) => celsius(meanCelsius), 'right'],
      ['evidence.mean-kinetic', 12, ({ meanKineticCelsius }) => celsius(meanKineticCelsius), 'right'],
      [
        'evidence.beyond-minutes',
        11,
        ({ readings, minutesBeyond }) => (readings === 0 ? '–' : minutes(minutesBeyond)),
        'right',
      ],
      ['evidence.gaps', 10, ({ gapMinutes }) => minutes(gapMinutes), 'right'],
    ]),
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
    ...tableOf(words, limits, ({ from }) => from, [
      [
        'evidence.from',
        15,
        ({ from, isRecorded }) => moment(from) + (isRecorded ? '' : ` (${say('evidence.not-recorded')})`),
      ],
      ['evidence.to', 15, ({ to }) => moment(to)],
      ['evidence.wax', 14, ({ wax }) => (wax === null ? '–' : word('wax', wax))],
      [
        'evidence.window',
        22,
        ({ windowLow, windowHigh }) =>
          windowLow === null && windowHigh === null
            ? '–'
            : `${limitText(windowLow, words)} – ${limitText(windowHigh, words)}`,
      ],
      ['evidence.ceiling', 14, ({ ceiling }) => limitText(ceiling, words)],
      ['evidence.storage-max', 14, ({ storageMax }) => limitText(storageMax, words)],
      [
        'evidence.night-swing',
        10,
        ({ largestNightSwingCelsius: swing }) => (swing === null ? '–' : words.difference(swing)),
        'right',
      ],
    ]),
  };
};

export const beyondTable = (place: EvidencePlace, words: RecordWords): RecordTable => {
  const { say, moment, minutes, celsius } = words;
  return {
    heading: 'evidence.beyond',
    first: noneBeyondKey(place),
    ...tableOf(words, place.beyond, ({ from, side }) => `${from} ${side}`, [
      ['evidence.from', 20, ({ from }) => moment(from)],
      ['evidence.to', 20, ({ to }) => moment(to)],
      ['evidence.beyond-minutes', 15, (run) => minutes(run.minutes), 'right'],
      ['evidence.extreme', 15, ({ extremeCelsius }) => celsius(extremeCelsius), 'right'],
      [
        'evidence.limit',
        30,
        ({ side, limitCelsius }) => `${say(`evidence.side.${side}`)} ${celsius(limitCelsius)}`,
        'right',
      ],
    ]),
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
  ...tableOf(words, probes, ({ probe, from }) => `${probe} ${from}`, [
    ['evidence.probe', 14, ({ probe }) => probe],
    ['evidence.from', 13, ({ from }) => words.moment(from)],
    ['evidence.to', 13, ({ to }) => words.moment(to)],
    [
      'evidence.uncertainty',
      12,
      ({ uncertaintyCelsius: kelvins }) => (kelvins === null ? '–' : words.difference(kelvins)),
      'right',
    ],
    ['evidence.certificate', 24, (probe) => certificateText(probe, words)],
    ['evidence.points', 24, (probe) => pointsText(probe, words)],
  ]),
});
