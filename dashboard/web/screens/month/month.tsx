// The month at a desk: how storage did night by night, what was remade where and its cost, what heaters did while the lab
// was closed, how many alarms people answered.

import { useLocation } from 'preact-iso';
import type { MonthSheet } from '../../../api/month.ts';
import { monthTemperatures } from '../../../charts/storage-month.ts';
import { ActButton } from '../../base/act-button.tsx';
import { DataTable } from '../../base/data-table.tsx';
import { formatDay, formatInstant, formatNumber, formatPercent, type Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { TableLinks } from '../common/table-links.tsx';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { now, reader } from '../../live/lab-state.ts';
import { formatMonth, monthMoved } from '../../base/local-days.ts';
import { MonthAlarms } from './month-alarms.tsx';
import { MonthHeaters } from './month-heaters.tsx';
import { MonthNights } from './month-nights.tsx';
import { MonthTrend } from './month-trend.tsx';
import '../night/night.css';
import './month.css';
import { HalfSwing } from '../night/night-tables.tsx';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';

const useMonth = (month: string | null) =>
  useLoaded<MonthSheet>(month === null ? '/api/month' : `/api/month?month=${encodeURIComponent(month)}`, {
    followsLab: false,
  });

const MINUTES_PER_HOUR = 60;

const costText = ({ price, minutes }: MonthSheet['remakeCost'], zoned: Reader): string => {
  const priceText = price === null ? null : formatNumber(price, 2, zoned);
  const hours = minutes === null ? null : formatNumber(minutes / MINUTES_PER_HOUR, 1, zoned);
  if (priceText !== null && hours !== null) return t('proof.cost', { price: priceText, hours });
  if (priceText !== null) return t('month.cost-price', { price: priceText });
  return hours === null ? t('proof.cost-unknown') : t('month.cost-hours', { hours });
};

const Remakes = ({ sheet, zoned }: { readonly sheet: MonthSheet; readonly zoned: Reader }) => (
  <section>
    <h2>{t('month.remakes')}</h2>
    <DataTable
      none={t('night.no-places')}
      rows={sheet.places}
      keyOf={(place) => place.station}
      columns={{
        [t('night.place')]: (place) => place.name,
        [t('month.ended')]: { figures: (place) => place.ended },
        [t('month.invested')]: { figures: (place) => place.invested },
        [t('month.remade')]: {
          figures: (place) =>
            place.ended === 0 ? '0' : `${place.remade} (${formatPercent(place.remade / place.ended, zoned)})`,
        },
        [t('night.swings')]: { figures: (place) => formatNumber(place.swings, 1, zoned) },
      }}
    />
    <HalfSwing swings={sheet.places.map(({ swings }) => swings)} />
    <p class="below">
      {sheet.remakes.length === 0 ? t('month.no-remakes') : costText(sheet.remakeCost, zoned)}
    </p>
    {sheet.remakes.length > 0 && (
      <DataTable
        rows={sheet.remakes}
        keyOf={(remake) => remake.id}
        columns={{
          [t('night.pattern')]: (remake) => `${remake.id} ${remake.caseReference}`,
          [t('night.place')]: (remake) => remake.stationName ?? '–',
          [t('month.when')]: (remake) => formatDay(remake.at, zoned),
          [t('month.by')]: (remake) => remake.by,
          [t('month.why')]: (remake) => remake.reason,
        }}
      />
    )}
  </section>
);

export default function Month() {
  const { query } = useLocation();
  const { value: sheet, trouble: failed } = useMonth(query.month ?? null);
  useTitle(() => t('month.title'));
  if (failed)
    return (
      <>
        <h1>{t('month.title')}</h1>
        <TroubleNote trouble={failed} />
      </>
    );
  if (sheet === null)
    return (
      <>
        <h1>{t('month.title')}</h1>
        <p role="status">{t('month.loading')}</p>
      </>
    );
  const zoned: Reader = { ...reader.value, timeZone: sheet.timeZone };
  const drawn = monthTemperatures(sheet.places);
  return (
    <article class="sheet">
      <header>
        <h1>{formatMonth(sheet.month, zoned)}</h1>
        <p class="dim">{sheet.lab}</p>
        {!sheet.isOver && (
          <p class="dim">{t('month.as-of', { at: formatInstant(sheet.asOf, now.value, zoned) })}</p>
        )}
        <p class="row night-ways">
          <ActLink href={`/month?month=${monthMoved(sheet.month, -1)}`} text="month.earlier" />
          {sheet.isOver && <ActLink href={`/month?month=${monthMoved(sheet.month, 1)}`} text="month.later" />}
          <ActButton text={t('night.print')} isFirst onClick={() => print()} />
          <TableLinks path={`/api/month.csv?month=${sheet.month}`} />
          <ActLink href="/night" text="night.last" />
        </p>
      </header>
      <section>
        <h2>{t('month.trend')}</h2>
        {sheet.places.length === 0 && <p>{t('night.no-places')}</p>}
        {sheet.places.map((place) => (
          <MonthNights key={place.station} place={place} drawn={drawn} zoned={zoned} />
        ))}
      </section>
      <MonthTrend sheet={sheet} zoned={zoned} />
      <Remakes sheet={sheet} zoned={zoned} />
      <MonthHeaters sheet={sheet} zoned={zoned} />
      <MonthAlarms sheet={sheet} zoned={zoned} />
    </article>
  );
}
