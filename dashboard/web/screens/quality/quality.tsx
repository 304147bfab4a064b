// How good the alarms are: the standard's own figures beside their targets, over the last day, thirty days or a
// month, and the lists to work on. Printable as it stands.

import { useLocation } from 'preact-iso';
import type { AlarmQualityView } from '../../../api/alarm-quality.ts';
import { ActButton } from '../../base/act-button.tsx';
import { read } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatDay, formatPercent, instantFormat } from '../../base/format.ts';
import { ruleName, t, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoadedBy } from '../../live/use-loaded.ts';
import { now, reader } from '../../live/lab-state.ts';
import { qualityAmount } from '../common/quality-amount.ts';
import { SPANS, spanAsked, type QualitySpanChoice, qualitySpan } from './quality-span.ts';
import './quality.css';
import { useTitle } from '../../base/use-title.ts';
import { iso } from '../../../../wax/iso.ts';
import { instantText } from '../../live/instant-text.ts';

const REFRESH_MILLIS = 60_000;

const useQuality = (span: QualitySpanChoice) =>
  useLoadedBy<AlarmQualityView>(
    span,
    (signal) => {
      const { from, to } = spanAsked(span, now.peek());
      const asked = new URLSearchParams({ from: iso(from), to: iso(to) });
      return read(`/api/alarm-quality?${asked}`, signal);
    },
    { followsLab: false, everyMillis: REFRESH_MILLIS },
  );

type Figure = AlarmQualityView['figures'][number];

const verdict = ({ holds }: Figure): string =>
  holds === null ? '–' : t(holds ? 'alarm-quality.holds' : 'alarm-quality.missed');

const textsOfSpan = (from: string, to: string): { readonly from: string; readonly to: string } => {
  const at = instantFormat([from, to], now.value, reader.value);
  return { from: at(from), to: at(to) };
};

const Figures = ({ view }: { readonly view: AlarmQualityView }) => (
  <section>
    <h2>{t('alarm-quality.figures')}</h2>
    <DataTable
      rows={view.figures}
      keyOf={(figure) => figure.name}
      columns={{
        [t('alarm-quality.figure')]: (figure) => word('quality-figure', figure.name),
        [t('alarm-quality.value')]: {
          figures: (figure) => <strong>{qualityAmount(figure, figure.value, reader.value)}</strong>,
        },
        [t('alarm-quality.at-most')]: {
          figures: (figure) => qualityAmount(figure, figure.atMost, reader.value),
        },
        [t('alarm-quality.verdict')]: (figure) => (
          <span class={figure.holds === false ? 'quality-missed' : undefined}>{verdict(figure)}</span>
        ),
        [t('alarm-quality.stands')]: (figure) => (
          <span class="dim">{`${word('standing', figure.standing)}: ${sourceText(figure.source)}`}</span>
        ),
      }}
    />
  </section>
);

const Daily = ({ view }: { readonly view: AlarmQualityView }) => {
  const most = Math.max(1, ...view.daily.map(({ count }) => count));
  return (
    <section>
      <h2>{t('alarm-quality.daily')}</h2>
      <ul class="quality-days">
        {view.daily.map(({ date, count }) => (
          <li key={date}>
            {/* A day of the lab's calendar, whatever the zone. */}
            <span>{formatDay(date, { ...reader.value, timeZone: 'UTC' })}</span>
            <span class="quality-bar" style={{ inlineSize: `${(100 * count) / most}%` }} />
            <span>{count}</span>
          </li>
        ))}
      </ul>
      <p class="dim">
        {t('alarm-quality.busiest', {
          shift: view.busiest.shift,
          hour: view.busiest.hour,
          ten: view.busiest.tenMinutes,
        })}
      </p>
    </section>
  );
};

const Contributors = ({ view }: { readonly view: AlarmQualityView }) => (
  <section>
    <h2>{t('alarm-quality.contributors')}</h2>
    <DataTable
      rows={view.contributors.slice(0, 10)}
      keyOf={(row) => `${row.subject} ${row.rule}`}
      columns={{
        [t('alarm-quality.alarm')]: (row) => `${ruleName(row.rule)}, ${row.subjectName}`,
        [t('alarm-quality.count')]: { figures: (row) => row.count },
        [t('alarm-quality.share')]: { figures: (row) => formatPercent(row.share, reader.value) },
        [word('quality-figure', 'chattering')]: { figures: (row) => row.chattering },
        [word('quality-figure', 'fleeting')]: { figures: (row) => row.fleeting },
        [t('alarm-quality.stale')]: { figures: (row) => row.stale },
      }}
    />
  </section>
);

const Floods = ({ view }: { readonly view: AlarmQualityView }) => (
  <section>
    <h2>{t('alarm-quality.floods')}</h2>
    <p class="dim">{t('alarm-quality.flood-rule')}</p>
    {view.floods.length === 0 ? (
      <p>{t('alarm-quality.no-floods')}</p>
    ) : (
      <ul>
        {view.floods.map(({ count, from, to }) => (
          <li key={from}>{t('alarm-quality.flood', { ...textsOfSpan(from, to), count })}</li>
        ))}
      </ul>
    )}
  </section>
);

const Hidden = ({ view }: { readonly view: AlarmQualityView }) => (
  <section>
    <h2>{t('alarm-quality.hidden')}</h2>
    <DataTable
      none={t('alarm-quality.none-hidden')}
      rows={view.hidden}
      keyOf={(row) => `${row.at} ${row.subject} ${row.rule}`}
      columns={{
        [t('alarm-quality.alarm')]: (row) => `${ruleName(row.rule)}, ${row.subjectName}`,
        [t('alarm-quality.what')]: (row) => word('change', row.kind),
        [t('alarm-quality.when')]: (row) => instantText(row.at),
        [t('alarm-quality.by')]: (row) => row.by ?? '–',
        [t('alarm.reason')]: (row) => row.reason ?? '–',
      }}
    />
  </section>
);

export default function Quality() {
  const { query, route } = useLocation();
  const span = qualitySpan(query.span ?? null);
  const { value: view, trouble: failed } = useQuality(span);
  useTitle(() => t('alarm-quality.title'));
  return (
    <article class="quality">
      <h1>{t('alarm-quality.title')}</h1>
      <p class="dim">{t('alarm-quality.explain')}</p>
      <p class="row quality-ways">
        {SPANS.map((choice) => (
          <ActButton
            key={choice}
            text={word('quality-span', choice)}
            isPressed={choice === span}
            onClick={() => route(`/quality?span=${choice}`, true)}
          />
        ))}
        <ActButton text={t('alarm-quality.print')} onClick={() => print()} />
      </p>
      {failed && <TroubleNote trouble={failed} />}
      {view && (
        <>
          <p>{t('alarm-quality.span', { ...textsOfSpan(view.from, view.to), count: view.announced })}</p>
          {!view.isBasis && <p class="note">{t('alarm-quality.no-basis')}</p>}
          {!view.isWhole && <p class="note">{t('alarm-quality.not-whole')}</p>}
          <Figures view={view} />
          {view.announced > 0 && <Contributors view={view} />}
          <Daily view={view} />
          <Floods view={view} />
          <Hidden view={view} />
        </>
      )}
    </article>
  );
}
