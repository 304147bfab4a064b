// The tables of one place in the record on paper: its readings, limits, times beyond them, alarms and probes.

import type {
  EvidenceExcursion,
  EvidenceFigures,
  EvidencePlace,
  EvidenceProbe,
  LimitPeriod,
} from '../../api/evidence.ts';
import { beyondNone } from './beyond-none.ts';
import { type Cell, DIM, type Paper } from '../night/pdf-paper.ts';
import type { SheetWords } from '../night/sheet-words.ts';

/** The first in bold. */
export const cells = (...texts: readonly string[]): readonly Cell[] =>
  texts.map((text, index) => ({ text, bold: index === 0 }));

const figureCells = (name: string, figures: EvidenceFigures, words: SheetWords): readonly Cell[] =>
  cells(
    name,
    words.number(figures.readings, 0),
    words.number(figures.doubtfulReadings, 0),
    words.celsius(figures.minCelsius),
    words.celsius(figures.maxCelsius),
    words.celsius(figures.meanCelsius),
    words.celsius(figures.meanKineticCelsius),
    figures.readings === 0 ? '–' : words.minutes(figures.minutesBeyond),
    words.minutes(figures.gapMinutes),
  );

export const readingsTable = (
  paper: Paper,
  place: EvidencePlace,
  step: 'day' | 'month',
  words: SheetWords,
): void => {
  const { say } = words;
  paper.subheading(say('evidence.readings'));
  if (place.whole.readings === 0) paper.line(say('evidence.no-readings'), true);
  paper.table(
    [
      { heading: say(step === 'day' ? 'evidence.day' : 'evidence.month'), share: 16 },
      { heading: say('evidence.count'), share: 9, align: 'right' },
      { heading: say('evidence.doubtful'), share: 12, align: 'right' },
      { heading: say('evidence.least'), share: 10, align: 'right' },
      { heading: say('evidence.most'), share: 10, align: 'right' },
      { heading: say('evidence.mean'), share: 10, align: 'right' },
      { heading: say('evidence.mean-kinetic'), share: 12, align: 'right' },
      { heading: say('evidence.beyond-minutes'), share: 11, align: 'right' },
      { heading: say('evidence.gaps'), share: 10, align: 'right' },
    ],
    [
      ...place.steps.map((figures) =>
        figureCells(step === 'day' ? words.day(figures.from) : words.month(figures.from), figures, words),
      ),
      figureCells(say('evidence.whole'), place.whole, words),
    ],
  );
  paper.line(say('evidence.means-of', { width_minutes: place.meanOfMinutes }), false, DIM);
};

const limitText = (limit: LimitPeriod['ceiling'], words: SheetWords): string =>
  limit === null ? '–' : `${words.celsius(limit.celsius)} (${words.word('standing', limit.standing)})`;

export const limitsTable = (paper: Paper, { limits }: EvidencePlace, words: SheetWords): void => {
  const { say, moment, word } = words;
  paper.subheading(say('evidence.limits'));
  paper.table(
    [
      { heading: say('evidence.from'), share: 15 },
      { heading: say('evidence.to'), share: 15 },
      { heading: say('evidence.wax'), share: 14 },
      { heading: say('evidence.window'), share: 22 },
      { heading: say('evidence.ceiling'), share: 14 },
      { heading: say('evidence.storage-max'), share: 14 },
      { heading: say('evidence.night-swing'), share: 10, align: 'right' },
    ],
    limits.map((period) =>
      cells(
        period.isRecorded ? moment(period.from) : `${moment(period.from)} (${say('evidence.not-recorded')})`,
        moment(period.to),
        period.wax === null ? '–' : word('wax', period.wax),
        period.windowLow === null && period.windowHigh === null
          ? '–'
          : `${limitText(period.windowLow, words)} – ${limitText(period.windowHigh, words)}`,
        limitText(period.ceiling, words),
        limitText(period.storageMax, words),
        period.largestNightSwingCelsius === null ? '–' : words.difference(period.largestNightSwingCelsius),
      ),
    ),
  );
};

export const beyondTable = (paper: Paper, place: EvidencePlace, words: SheetWords): void => {
  const { say, moment } = words;
  const { beyond, beyondLeftOut } = place;
  paper.subheading(say('evidence.beyond'));
  const none = beyondNone(place);
  if (none !== null) {
    paper.line(say(none));
    return;
  }
  paper.table(
    [
      { heading: say('evidence.from'), share: 20 },
      { heading: say('evidence.to'), share: 20 },
      { heading: say('evidence.beyond-minutes'), share: 15, align: 'right' },
      { heading: say('evidence.extreme'), share: 15, align: 'right' },
      { heading: say('evidence.limit'), share: 30, align: 'right' },
    ],
    beyond.map((run) =>
      cells(
        moment(run.from),
        moment(run.to),
        words.minutes(run.minutes),
        words.celsius(run.extremeCelsius),
        `${say(run.side === 'above' ? 'evidence.side.above' : 'evidence.side.below')} ${words.celsius(run.limitCelsius)}`,
      ),
    ),
  );
  if (beyondLeftOut > 0) paper.line(say('evidence.beyond-more', { count: beyondLeftOut }));
};

const signedText = (
  { signed }: EvidenceExcursion,
  part: 'cause' | 'correction',
  { say }: SheetWords,
): string => signed.at(-1)?.[part] ?? say('evidence.unsigned');

export const excursionTable = (
  paper: Paper,
  excursions: readonly EvidenceExcursion[],
  words: SheetWords,
): void => {
  const { say, moment, word } = words;
  if (excursions.length === 0) {
    paper.line(say('evidence.excursions-none'));
    return;
  }
  paper.table(
    [
      { heading: say('evidence.alarm'), share: 24 },
      { heading: say('evidence.from'), share: 11 },
      { heading: say('evidence.to'), share: 11 },
      { heading: say('evidence.notified'), share: 14 },
      { heading: say('evidence.acts'), share: 16 },
      { heading: say('evidence.cause'), share: 17 },
      { heading: say('evidence.correction'), share: 17 },
    ],
    excursions.map((excursion) => {
      const last = excursion.signed.at(-1);
      const notified = excursion.notices.map(
        ({ at, to, channel, state }) =>
          `${to}: ${word('outbox-channel', channel)}, ${word('outbox-state', state)}, ${moment(at)}`,
      );
      const acts = excursion.acts.map(
        ({ at, by, kind, reason }) =>
          `${by}: ${word('change', kind)}, ${moment(at)}${reason === null ? '' : ` (${reason})`}`,
      );
      return cells(
        excursion.message,
        moment(excursion.raisedAt),
        excursion.clearedAt === null ? say('evidence.still-on') : moment(excursion.clearedAt),
        notified.join('; ') || say('evidence.nobody-notified'),
        acts.join('; ') || say('evidence.nobody-acted'),
        signedText(excursion, 'cause', words),
        last === undefined
          ? signedText(excursion, 'correction', words)
          : `${last.correction} (${say('evidence.signed-by', { by: last.by, signed_at: last.at })})`,
      );
    }),
  );
  for (const { signed } of excursions)
    for (const { at, ...earlier } of signed.slice(0, -1))
      paper.line(say('evidence.superseded', { ...earlier, signed_at: at }), false, DIM);
};

const certificateText = ({ certificate, ...probe }: EvidenceProbe, { say }: SheetWords): string => {
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

const pointsText = ({ certificate }: EvidenceProbe, { say }: SheetWords): string =>
  (certificate?.points ?? [])
    .map((point) =>
      say('evidence.point', {
        reference_celsius: point.referenceCelsius,
        found_celsius_difference: point.asFoundErrorCelsius,
        left_celsius_difference: point.asLeftErrorCelsius,
      }),
    )
    .join('; ') || '–';

export const probeTable = (paper: Paper, { probes }: EvidencePlace, words: SheetWords): void => {
  const { say, moment } = words;
  paper.subheading(say('evidence.probes'));
  if (probes.length === 0) {
    paper.line(say('evidence.probes-none'));
    return;
  }
  paper.table(
    [
      { heading: say('evidence.probe'), share: 14 },
      { heading: say('evidence.from'), share: 13 },
      { heading: say('evidence.to'), share: 13 },
      { heading: say('evidence.uncertainty'), share: 12, align: 'right' },
      { heading: say('evidence.certificate'), share: 24 },
      { heading: say('evidence.points'), share: 24 },
    ],
    probes.map((probe) =>
      cells(
        probe.probe,
        moment(probe.from),
        moment(probe.to),
        probe.uncertaintyCelsius === null ? '–' : words.difference(probe.uncertaintyCelsius),
        certificateText(probe, words),
        pointsText(probe, words),
      ),
    ),
  );
};
