// The desk in the morning: what one night did, what may be invested, what must be remade, what must be seen to. One
// page, on the screen and on paper; any night of the past by its address.

import { DayInput } from '../../forms/written-time-inputs.tsx';
import { useLocation } from 'preact-iso';
import type { NightSheet } from '../../../api/night.ts';
import { ActButton } from '../../base/act-button.tsx';
import { addReaderSettings } from '../../base/api.ts';
import { formatDay, formatInstant, type Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { TableLinks } from '../common/table-links.tsx';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { reader } from '../../live/lab-state.ts';
import { NightAlarms, NightHeaters, NightProbes } from './night-events.tsx';
import { NightCharges } from './night-charges.tsx';
import { NightChart } from './night-chart.tsx';
import { NightGlance } from './night-glance.tsx';
import { NightPatterns, NightPlaces } from './night-tables.tsx';
import { NightMail } from './night-mail.tsx';
import { NightSign } from './night-sign.tsx';
import { dayAfter, localDay } from '../../base/local-days.ts';
import './night.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';

/** In the words, unit and clock of the reader: a change of one of them loads it anew. */
const useSheet = (date: string | null) =>
  useLoaded<NightSheet>(
    addReaderSettings(date === null ? '/api/night' : `/api/night?date=${encodeURIComponent(date)}`),
    { followsLab: false },
  );

const Days = ({ sheet, zoned }: { readonly sheet: NightSheet; readonly zoned: Reader }) => {
  const { route, query } = useLocation();
  return (
    <p class="row night-ways">
      <ActLink
        href={`/night?date=${localDay(Date.parse(sheet.from), zoned.timeZone)}`}
        text="night.earlier"
      />
      <span class="night-pick">
        <DayInput
          aria-label={t('night.date')}
          value={sheet.date}
          onChange={(date) => {
            if (date !== '') route(`/night?date=${date}`);
          }}
        />
      </span>
      {sheet.isOver && <ActLink href={`/night?date=${dayAfter(sheet.date)}`} text="night.later" />}
      {query.date !== undefined && <ActLink href="/night" text="night.last" />}
    </p>
  );
};

/** What can be done with the sheet, once its answer was read. */
const Ways = ({ sheet }: { readonly sheet: NightSheet }) => {
  const asked = (kind: string, more = '') =>
    addReaderSettings(`/api/night.${kind}?date=${sheet.date}${more}`);
  return (
    <p class="row night-ways">
      <ActButton text={t('night.print')} isFirst onClick={() => print()} />
      <ActLink href={asked('pdf')} text="night.pdf-a4" />
      <ActLink href={asked('pdf', '&paper=letter')} text="night.pdf-letter" />
      <TableLinks path={asked('csv')} />
      <ActLink href={`/month?month=${sheet.date.slice(0, 7)}`} text="month.title" />
    </p>
  );
};

export default function Night() {
  const { query } = useLocation();
  const { value: sheet, trouble: failed, setValue: setSheet } = useSheet(query.date ?? null);
  const zoned: Reader = { ...reader.value, timeZone: sheet?.timeZone ?? reader.value.timeZone };
  useTitle(() => t('night.title'));
  if (failed)
    return (
      <>
        <h1>{t('night.title')}</h1>
        <TroubleNote trouble={failed} />
        <p class="row">
          <ActLink href="/night" text="night.last" />
        </p>
      </>
    );
  if (sheet === null)
    return (
      <>
        <h1>{t('night.title')}</h1>
        <p role="status">{t('night.loading')}</p>
      </>
    );
  const moment = (at: string) => `${formatDay(at, zoned)}, ${formatInstant(at, Date.parse(at), zoned)}`;
  const asOf = sheet.patterns
    .map((pattern) => pattern.asOf)
    .sort()
    .at(-1);
  return (
    <article class="sheet">
      <header class="sheet-head">
        <h1>{t('night.of', { day: formatDay(sheet.opens, zoned) })}</h1>
        <p class="dim">
          {sheet.lab} · {t('night.span', { from: moment(sheet.from), to: moment(sheet.opens) })}
        </p>
        {!sheet.isOver && <p role="status">{t('night.lasts', { to: moment(sheet.to) })}</p>}
        {asOf !== undefined && <p class="dim">{t('night.as-of', { at: moment(asOf) })}</p>}
        {!sheet.hoursKnown && <p class="dim">{t('night.no-hours')}</p>}
        <Days sheet={sheet} zoned={zoned} />
      </header>
      <NightGlance sheet={sheet} />
      <Ways sheet={sheet} />
      <section>
        <h2>{t('night.places')}</h2>
        <NightChart sheet={sheet} zoned={zoned} />
        <NightPlaces places={sheet.places} zoned={zoned} />
      </section>
      <section>
        <h2>{t('night.patterns')}</h2>
        <NightPatterns patterns={sheet.patterns} zoned={zoned} />
      </section>
      <section class="sheet-pair">
        <NightHeaters heaters={sheet.heaters} />
        <NightProbes probes={sheet.probes} />
        {sheet.charges && <NightCharges {...sheet.charges} />}
      </section>
      <NightAlarms alarms={sheet.alarms} zoned={zoned} />
      <NightMail />
      <NightSign sheet={sheet} zoned={zoned} onSheet={setSheet} />
    </article>
  );
}
