// The month at a desk: how storage did night by night, what was remade where, how many alarms people answered.

import { useSignalEffect } from '@preact/signals';
import { useLocation } from 'preact-iso';
import type { MonthSheet } from '../../../api/month.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatAge, formatDay, formatNumber, formatPercent, type Reader } from '../../base/format.ts';
import { ruleName, t, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { TableLinks } from '../common/table-links.tsx';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { reader } from '../../live/lab-state.ts';
import { formatMonth, monthMoved } from '../common/night-days.ts';
import { MonthNights } from './month-nights.tsx';
import '../night/night.css';
import './month.css';

const useMonth = (month: string | null) =>
  useLoaded<MonthSheet>(month === null ? '/api/month' : `/api/month?month=${encodeURIComponent(month)}`, {
    followsLab: false,
  });

const Remakes = ({ sheet, zoned }: { readonly sheet: MonthSheet; readonly zoned: Reader }) => (
  <section>
    <h2>{t('month.remakes')}</h2>
    <DataTable
      columns={[
        t('night.place'),
        t('month.ended'),
        t('month.invested'),
        t('month.remade'),
        t('night.swings'),
      ]}
      rows={sheet.places.map((place) => ({
        key: place.station,
        cells: [
          place.name,
          place.ended,
          place.invested,
          place.ended === 0 ? '0' : `${place.remade} (${formatPercent(place.remade / place.ended, zoned)})`,
          formatNumber(place.swings, 1, zoned),
        ],
      }))}
    />
    {sheet.remakes.length === 0 ? (
      <p class="below">{t('month.no-remakes')}</p>
    ) : (
      <DataTable
        columns={[t('night.pattern'), t('night.place'), t('month.when'), t('month.by'), t('month.why')]}
        rows={sheet.remakes.map((remake) => ({
          key: remake.id,
          cells: [
            `${remake.id} ${remake.caseReference}`,
            remake.stationName ?? '–',
            formatDay(remake.at, zoned),
            remake.by,
            remake.reason,
          ],
        }))}
      />
    )}
  </section>
);

type Figure = MonthSheet['alarms']['figures'][number];

const figureText = ({ unit }: Figure, value: number | null, zoned: Reader): string => {
  if (value === null) return '–';
  if (unit === 'share') return formatPercent(value, zoned);
  if (unit === 'seconds') return formatAge(value, zoned);
  return formatNumber(value, Number.isInteger(value) ? 0 : 1, zoned);
};

const Alarms = ({ sheet, zoned }: { readonly sheet: MonthSheet; readonly zoned: Reader }) => {
  const { announced, isBasis, figures, most } = sheet.alarms;
  return (
    <section>
      <h2>{t('month.alarms')}</h2>
      <p>{announced === 0 ? t('month.alarms-none') : t('month.alarms-count', { count: announced })}</p>
      {announced > 0 && (
        <>
          <ul>
            {most.map(({ rule, placeName, count }) => (
              <li key={`${rule}${placeName}`}>{`${count} × ${ruleName(rule)}, ${placeName}`}</li>
            ))}
          </ul>
          <h3>{t('month.quality')}</h3>
          {!isBasis && <p class="dim">{t('month.no-basis')}</p>}
          <DataTable
            columns={[t('month.figure'), t('month.value'), t('month.at-most'), t('month.stands')]}
            rows={figures.map((figure) => ({
              key: figure.name,
              cells: [
                word('quality-figure', figure.name),
                <span key="value" class={figure.holds === false ? 'missed' : undefined}>
                  {figureText(figure, figure.value, zoned)}
                  {figure.holds === false && ` (${t('month.missed')})`}
                </span>,
                figureText(figure, figure.atMost, zoned),
                figure.atMost === null
                  ? '–'
                  : `${word('standing', figure.standing)}: ${sourceText(figure.source)}`,
              ],
            }))}
          />
        </>
      )}
    </section>
  );
};

export default function Month() {
  const { query } = useLocation();
  const { value: sheet, trouble: failed } = useMonth(query.month ?? null);
  useSignalEffect(() => {
    document.title = t('month.title');
  });
  if (failed)
    return (
      <>
        <h1>{t('month.title')}</h1>
        <TroubleNote trouble={failed} />
      </>
    );
  if (sheet === null) return <h1>{t('month.title')}</h1>;
  const zoned: Reader = { ...reader.value, timeZone: sheet.timeZone };
  return (
    <article class="sheet">
      <header>
        <h1>{formatMonth(sheet.month, zoned)}</h1>
        <p class="dim">{sheet.lab}</p>
        <div class="night-ways">
          <p class="row">
            <a class="act" href={`/month?month=${monthMoved(sheet.month, -1)}`}>
              {t('month.earlier')}
            </a>
            {sheet.isOver && (
              <a class="act" href={`/month?month=${monthMoved(sheet.month, 1)}`}>
                {t('month.later')}
              </a>
            )}
            <button type="button" class="act" data-first="true" onClick={() => print()}>
              {t('night.print')}
            </button>
            <TableLinks path={`/api/month.csv?month=${sheet.month}`} />
            <a class="act" href="/night">
              {t('night.last')}
            </a>
          </p>
        </div>
      </header>
      <section>
        <h2>{t('month.trend')}</h2>
        {sheet.places.length === 0 && <p>{t('night.no-places')}</p>}
        {sheet.places.map((place) => (
          <MonthNights key={place.station} place={place} zoned={zoned} />
        ))}
      </section>
      <Remakes sheet={sheet} zoned={zoned} />
      <Alarms sheet={sheet} zoned={zoned} />
    </article>
  );
}
