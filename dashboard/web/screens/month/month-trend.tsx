// The month beside those before it: swings, heat dose, remakes and nuisances, each with a bar. Earlier months are worked out
// only on request, one after another, because each takes the server some seconds.

import { useEffect, useState } from 'preact/hooks';
import type { MonthSheet } from '../../../api/month.ts';
import { read, type Trouble } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatDifference, formatNumber, formatPercent, type Reader } from '../../base/format.ts';
import { formatMonth, monthMoved } from '../../base/local-days.ts';
import { t } from '../../base/messages.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { type MonthFigures, monthFigures } from './month-figures.ts';

const MONTHS = 6;

interface Earlier {
  readonly figures: readonly MonthFigures[];
  readonly trouble: Trouble | null;
}
const NOTHING: Earlier = { figures: [], trouble: null };

/** Of the months before, the latest first. */
const useEarlier = (month: string, isAsked: boolean): Earlier => {
  const [earlier, setEarlier] = useState(NOTHING);
  useEffect(() => {
    setEarlier(NOTHING);
    if (!isAsked) return;
    const leaving = new AbortController();
    const load = async (): Promise<void> => {
      const figures: MonthFigures[] = [];
      for (let back = 1; back < MONTHS; back += 1) {
        const answer = await read<MonthSheet>(`/api/month?month=${monthMoved(month, -back)}`, leaving.signal);
        if (leaving.signal.aborted) return;
        if (!answer.ok) {
          setEarlier({ figures: [...figures], trouble: answer.trouble });
          return;
        }
        figures.push(monthFigures(answer.value));
        setEarlier({ figures: [...figures], trouble: null });
      }
    };
    void load();
    return () => leaving.abort();
  }, [month, isAsked]);
  return earlier;
};

/** A figure over a bar whose length is its share of the greatest. */
const Bar = (props: { readonly text: string; readonly value: number | null; readonly greatest: number }) => {
  const { text, value, greatest } = props;
  const share = value === null || greatest === 0 ? 0 : value / greatest;
  return (
    <span class="trend">
      {text}
      <i aria-hidden="true" style={{ inlineSize: `${100 * share}%` }} />
    </span>
  );
};

interface Column {
  readonly heading: string;
  readonly numberOf: (figures: MonthFigures) => number | null;
  readonly textOf: (figures: MonthFigures) => string;
}

const columns = (zoned: Reader): readonly Column[] => {
  const numbered = (value: number | null, digits: number): string =>
    value === null ? '–' : formatNumber(value, digits, zoned);
  const remadeShare = ({ remade, ended }: MonthFigures): number | null =>
    ended === 0 ? null : remade / ended;
  return [
    {
      heading: t('month.trend-swing'),
      numberOf: (month) => month.swing_celsius_difference,
      textOf: ({ swing_celsius_difference: swing }) =>
        swing === null ? '–' : formatDifference(swing, zoned),
    },
    {
      heading: t('month.trend-dose'),
      numberOf: (month) => month.dose_equivalent_hours,
      textOf: ({ dose_equivalent_hours: dose }) => (dose === null ? '–' : `${numbered(dose, 1)} h`),
    },
    {
      heading: t('month.trend-remade'),
      numberOf: remadeShare,
      textOf: (month) => {
        const share = remadeShare(month);
        return share === null ? '–' : `${month.remade} (${formatPercent(share, zoned)})`;
      },
    },
    {
      heading: t('month.alarms'),
      numberOf: ({ alarms }) => alarms,
      textOf: ({ alarms }) => numbered(alarms, 0),
    },
    {
      heading: t('month.trend-nuisances'),
      numberOf: ({ nuisances }) => nuisances,
      textOf: ({ nuisances }) => numbered(nuisances, 0),
    },
  ];
};

export const MonthTrend = ({ sheet, zoned }: { readonly sheet: MonthSheet; readonly zoned: Reader }) => {
  const [isAsked, setAsked] = useState(false);
  const earlier = useEarlier(sheet.month, isAsked);
  const months = [monthFigures(sheet), ...earlier.figures];
  const shown = columns(zoned);
  return (
    <section class="month-folds">
      <details onToggle={({ currentTarget }) => setAsked(currentTarget.open)}>
        <summary>{t('month.trend-months')}</summary>
        <DataTable
          rows={months}
          keyOf={({ month }) => month}
          columns={{
            [t('month.month')]: ({ month }) => (
              <a href={`/month?month=${month}`}>{formatMonth(month, zoned)}</a>
            ),
            ...Object.fromEntries(
              shown.map(({ heading, numberOf, textOf }) => [
                heading,
                (figures: MonthFigures) => (
                  <Bar
                    text={textOf(figures)}
                    value={numberOf(figures)}
                    greatest={Math.max(0, ...months.map((month) => numberOf(month) ?? 0))}
                  />
                ),
              ]),
            ),
          }}
        />
        {isAsked && months.length < MONTHS && earlier.trouble === null && (
          <p role="status">{t('month.trend-loading')}</p>
        )}
        {earlier.trouble && <TroubleNote trouble={earlier.trouble} />}
        <p class="dim">{t('month.trend-note')}</p>
      </details>
    </section>
  );
};
