// The record of a span for a quality system: chosen by days and station, read here, signed here, taken away as a
// tagged PDF or a table.

import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import type { EvidenceReport } from '../../../api/evidence.ts';
import { ActButton } from '../../base/act-button.tsx';
import { addReaderSettings } from '../../base/api.ts';
import { formatDay, formatInstant, type Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { ChoiceEntry, TextEntry } from '../../forms/entries.tsx';
import { Refusal } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { now, reader } from '../../live/lab-state.ts';
import { useLab, useLoaded } from '../../live/use-loaded.ts';
import { EvidenceChanges, EvidenceTraining } from './evidence-people.tsx';
import { EvidenceElsewhere, EvidencePlaceCard } from './evidence-place.tsx';
import { lastDays } from './last-days.ts';
import '../night/night.css';
import { submitWith } from '../../forms/submit-with.ts';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';

const pathOf = (kind: '' | '.pdf' | '.csv', from: string, to: string, station: string): string => {
  const asked = new URLSearchParams({ from, to, ...(station !== '' && { station }) });
  return `/api/evidence${kind}?${asked}`;
};

const Asked = (props: { readonly from: string; readonly to: string; readonly station: string }) => {
  const { route } = useLocation();
  const lab = useLab();
  const [from, setFrom] = useState(props.from);
  const [to, setTo] = useState(props.to);
  const [station, setStation] = useState(props.station);
  return (
    <form
      class="sheet-form no-print"
      onSubmit={submitWith(() => route(`/evidence?${new URLSearchParams({ from, to, station })}`, true))}
    >
      <TextEntry label="evidence.first-day" type="date" required value={from} onChange={setFrom} />
      <TextEntry label="evidence.last-day" type="date" required value={to} onChange={setTo} />
      <ChoiceEntry
        label="evidence.place"
        value={station}
        options={[
          ['', t('evidence.every-place')],
          ...(lab.value?.stations ?? []).map(({ id, name }) => [id, name] as const),
        ]}
        onChange={setStation}
      />
      <p class="row">
        <ActButton text={t('evidence.show')} isFirst />
      </p>
    </form>
  );
};

const Head = ({ report, zoned }: { readonly report: EvidenceReport; readonly zoned: Reader }) => {
  const instant = (at: string): string => formatInstant(at, now.peek(), zoned);
  const lastDay = formatDay(Date.parse(report.to) - 1, zoned);
  return (
    <header>
      <h2>{t('evidence.heading', { from: formatDay(report.from, zoned), to: lastDay })}</h2>
      <p>{report.lab}</p>
      <p class="dim">
        {t('evidence.made', {
          made_at: instant(report.madeAt),
          zone: report.timeZone,
          version: report.version,
        })}
      </p>
      {Date.parse(report.to) >= Date.parse(report.madeAt) && (
        <p>{t('evidence.not-over', { to_at: instant(report.to) })}</p>
      )}
      <p class="dim">
        {report.settingsSince === null
          ? t('evidence.no-settings')
          : t('evidence.settings-since', { since_at: instant(report.settingsSince) })}
      </p>
      <p class="dim">{t('evidence.informs')}</p>
    </header>
  );
};

export default function Evidence() {
  const { query } = useLocation();
  useTitle(() => t('evidence.title'));
  const usual = lastDays(now.peek(), reader.value.timeZone);
  const from = query.from ?? usual.from;
  const to = query.to ?? usual.to;
  const station = query.station ?? '';
  const isAsked = query.from !== undefined;
  const record = useLoaded<EvidenceReport>(
    isAsked ? addReaderSettings(pathOf('', from, to, station)) : null,
    { followsLab: false },
  );
  const report = record.value;
  const zoned: Reader | null = report === null ? null : { ...reader.value, timeZone: report.timeZone };
  return (
    <SetUpPage heading="evidence.title" explain="evidence.explain" needs="read-audit">
      <Asked key={`${from} ${to} ${station}`} from={from} to={to} station={station} />
      <Refusal trouble={record.trouble} retry={record.reload} />
      <div role="status">
        {!isAsked && <p>{t('evidence.choose')}</p>}
        {record.busy && <p>{t('evidence.asking')}</p>}
      </div>
      {report !== null && zoned !== null && (
        <article class="sheet">
          <Head report={report} zoned={zoned} />
          <p class="row no-print">
            <ActLink href={addReaderSettings(pathOf('.pdf', from, to, station))} text="evidence.pdf" />
            <a class="act" href={addReaderSettings(pathOf('.csv', from, to, station))} download>
              {t('evidence.csv')}
            </a>
            <ActButton text={t('night.print')} onClick={() => print()} />
          </p>
          {report.places.length === 0 && <p>{t('evidence.no-places')}</p>}
          {report.places.map((place) => (
            <EvidencePlaceCard
              key={place.station}
              place={place}
              step={report.step}
              zoned={zoned}
              onSigned={record.reload}
            />
          ))}
          <EvidenceElsewhere excursions={report.elsewhere} zoned={zoned} onSigned={record.reload} />
          <EvidenceChanges report={report} zoned={zoned} />
          <EvidenceTraining report={report} zoned={zoned} />
          <p class="dim digest">{t('evidence.digest', { digest: report.figures })}</p>
          {report.auditHead !== null && (
            <p class="dim digest">{t('evidence.audit-head', { hash: report.auditHead })}</p>
          )}
        </article>
      )}
    </SetUpPage>
  );
}
