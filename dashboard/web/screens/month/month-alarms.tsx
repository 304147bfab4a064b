// The alarms of a month for a manager: how many, which most often, how soon they were acknowledged. The standard's own
// figures are behind that.

import type { MonthSheet } from '../../../api/month.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatAge, formatNumber, type Reader } from '../../base/format.ts';
import { ruleName, t, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { qualityAmount } from '../common/quality-amount.ts';

type Alarms = MonthSheet['alarms'];
type Figure = Alarms['figures'][number];

/** What people did about them, in sentences. */
const answerSentences = ({ figures }: Alarms, zoned: Reader): readonly string[] => {
  const figureOf = (name: Figure['name']): number | null =>
    figures.find((figure) => figure.name === name)?.value ?? null;
  const half = figureOf('acknowledged-median');
  const most = figureOf('acknowledged-p90');
  const never = figureOf('never-acknowledged');
  const closed = figureOf('per-closed-stretch');
  return [
    ...(half !== null && most !== null
      ? [t('month.acknowledged-in', { half: formatAge(half, zoned), most: formatAge(most, zoned) })]
      : []),
    ...(never !== null ? [t('month.never-acknowledged', { count: never })] : []),
    ...(closed !== null ? [t('month.while-closed', { count: formatNumber(closed, 1, zoned) })] : []),
  ];
};

const Figures = ({ sheet, zoned }: { readonly sheet: MonthSheet; readonly zoned: Reader }) => {
  const { isOver } = sheet;
  const { isBasis, figures } = sheet.alarms;
  // A month that has only begun is no basis for a verdict.
  const missed = isBasis || isOver ? figures.filter(({ holds }) => holds === false) : [];
  return (
    <>
      {missed.length > 0 && (
        <p>
          {t('month.missed-figures', {
            names: missed.map(({ name }) => word('quality-figure', name)).join(', '),
          })}
        </p>
      )}
      <details>
        <summary>{t('month.quality')}</summary>
        {!isBasis && <p class="dim">{t('month.no-basis')}</p>}
        <DataTable
          rows={figures}
          keyOf={(figure) => figure.name}
          columns={{
            [t('month.figure')]: (figure) => word('quality-figure', figure.name),
            [t('month.value')]: {
              figures: (figure) => (
                <span class={figure.holds === false ? 'missed' : undefined}>
                  {qualityAmount(figure, figure.value, zoned)}
                  {figure.holds === false && ` (${t('month.missed')})`}
                </span>
              ),
            },
            [t('month.at-most')]: { figures: (figure) => qualityAmount(figure, figure.atMost, zoned) },
            [t('month.stands')]: (figure) =>
              figure.atMost === null
                ? '–'
                : `${word('standing', figure.standing)}: ${sourceText(figure.source)}`,
          }}
        />
      </details>
    </>
  );
};

export const MonthAlarms = ({ sheet, zoned }: { readonly sheet: MonthSheet; readonly zoned: Reader }) => {
  const { alarms } = sheet;
  const { announced, most } = alarms;
  return (
    <section class="month-folds">
      <h2>{t('month.alarms')}</h2>
      <p>
        {announced === 0
          ? t('month.alarms-none')
          : t('month.alarms-count', { count: announced, listed: announced === most.length ? 'all' : 'most' })}
      </p>
      {announced > 0 && (
        <>
          <ul>
            {most.map(({ rule, placeName, count }) => (
              <li key={`${rule}${placeName}`}>{`${count} × ${ruleName(rule)}, ${placeName}`}</li>
            ))}
          </ul>
          <p class="below">{answerSentences(alarms, zoned).join(' ')}</p>
          <Figures sheet={sheet} zoned={zoned} />
        </>
      )}
    </section>
  );
};
