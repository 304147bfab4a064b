// One pattern: how long it may still lie, what it went through and where, and what a person does with it.

import { useRoute } from 'preact-iso';
import type { PatternView } from '../../../api/patterns.ts';
import type { SeriesView } from '../../../api/schemas.ts';
import { DataTable } from '../../base/data-table.tsx';
import { type Fact, FactList } from '../../base/fact-list.tsx';
import { read } from '../../base/api.ts';
import { formatDifference, formatNumber, formatTemperature } from '../../base/format.ts';
import { t, waxName, word } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { reader } from '../../live/lab-state.ts';
import { TemperatureChart } from '../common/chart/temperature-chart.tsx';
import '../station/station.css';
import { Label } from './label.tsx';
import { useLoaded, useLoadedBy } from '../../live/use-loaded.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { VERDICT_REFRESH_MILLIS } from '../common/bench/next-pattern.ts';
import { DueMark, VerdictMark } from '../common/bench/verdict-mark.tsx';
import { LotShares } from './lot-shares.tsx';
import { PatternCasting } from './pattern-casting.tsx';
import { PatternActs } from './pattern-acts.tsx';
import { dueText } from './patterns.tsx';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import { Refusal } from '../../forms/saving.tsx';
import '../../forms/work.css';
import { useTitle } from '../../base/use-title.ts';
import { stationName } from '../../live/lab-stations.ts';
import { instantText } from '../../live/instant-text.ts';

type Verdict = NonNullable<PatternView['verdict']>;

const bandText = (band: Verdict['permanentMicrometres']): string => {
  if (band === null) return '–';
  const round = (value: number) => formatNumber(value, 0, reader.value);
  return t('work.error-band', { value: round(band.likely), low: round(band.low), high: round(band.high) });
};

/** The two parts of the error apart, and what they were figured from. */
const errorFacts = (verdict: Verdict): readonly Fact[] => [
  [t('work.permanent'), bandText(verdict.permanentMicrometres)],
  ...(verdict.contractionMicrometres === null || verdict.contractionMicrometres.likely === 0
    ? []
    : [[t('work.contraction'), bandText(verdict.contractionMicrometres)] as const]),
  [t('work.reversible'), bandText(verdict.reversibleMicrometres)],
  [t('work.whereabouts'), word('whereabouts', verdict.whereabouts)],
  ...(verdict.standingDueAt === null
    ? []
    : [[t('work.standing-until'), instantText(verdict.standingDueAt)] as const]),
];

const formingText = ({ forming, technique, kind }: PatternView): string =>
  [
    word('pattern-kind', kind),
    word('technique', technique),
    ...(forming.origin === undefined ? [] : [word('origin', forming.origin)]),
    ...(forming.softening === undefined ? [] : [word('softening', forming.softening)]),
    ...(forming.celsius === undefined ? [] : [formatTemperature(forming.celsius, reader.value)]),
  ].join(', ');

const Figures = ({ pattern }: { readonly pattern: PatternView }) => {
  const { outlook, verdict } = pattern;
  const facts: Fact[] = [
    ...(verdict === null ? [] : errorFacts(verdict)),
    [t('work.tolerance'), formatNumber(pattern.toleranceMicrometres, 0, reader.value)],
    [t('work.length'), formatNumber(pattern.lengthMillimetres, 1, reader.value)],
    [t('work.technique'), formingText(pattern)],
    [t('station.wax'), waxName(pattern.wax)],
    ...(pattern.lots.length === 0 ? [] : [[t('work.lots'), <LotShares lots={pattern.lots} />] as const]),
    [t('work.made'), t('work.made-by', { at: instantText(pattern.madeAt), by: pattern.madeBy })],
  ];
  if (outlook !== null) {
    if (outlook.meanKineticCelsius !== null)
      facts.push([t('work.mkt'), formatTemperature(outlook.meanKineticCelsius, reader.value)]);
    facts.push(
      [
        t('work.swings'),
        t('work.swings-line', {
          count: formatNumber(outlook.swings, 1, reader.value),
          largest: formatDifference(outlook.largestSwingCelsius, reader.value),
        }),
      ],
      [t('work.too-warm'), formatNumber(outlook.minutesTooWarm, 0, reader.value)],
      [t('work.if-steady'), dueText(outlook.ifSteady)],
      [
        t('work.if-as-last-day'),
        outlook.hasForecast ? dueText(outlook.byForecast) : t('work.if-as-last-day-unknown'),
      ],
    );
  }
  return (
    <section class="figures">
      <FactList facts={facts} />
      <p class="dim">
        {outlook === null
          ? pattern.fate === null && t('work.no-outlook')
          : t('work.error-note', { standing: word('standing', outlook.standing) })}{' '}
        {verdict?.clock}
      </p>
    </section>
  );
};

const History = ({ pattern }: { readonly pattern: PatternView }) => {
  // A pattern that was moved or ended has another history.
  const {
    value: series,
    trouble,
    reload,
  } = useLoadedBy<SeriesView>(
    `${pattern.id} ${pattern.stays.length} ${pattern.stays.at(-1)?.to ?? ''}`,
    (signal) => read(`/api/patterns/${pattern.id}/readings?points=600`, signal),
    { followsLab: false },
  );
  return (
    <section>
      <h2>{t('work.history')}</h2>
      <Refusal trouble={trouble} retry={reload} />
      {series?.buckets.length !== 0 && (series !== null || trouble === null) && (
        <TemperatureChart
          shown={
            series && {
              station: { name: pattern.caseReference, windowLow: null, windowHigh: null, ceiling: null },
              readings: [{ ...series, probe: pattern.caseReference }],
              alarms: [],
              from: Date.parse(series.from),
              to: Date.parse(series.to),
            }
          }
        />
      )}
      <DataTable
        rows={pattern.stays}
        keyOf={(stay) => stay.from}
        columns={{
          [t('work.lies')]: (stay) => stationName(stay.station),
          [t('work.from')]: (stay) => instantText(stay.from),
          [t('work.until')]: (stay) => (stay.to === null ? '' : instantText(stay.to)),
        }}
      />
    </section>
  );
};

const Outcome = ({ pattern: { fate, verdict } }: { readonly pattern: PatternView }) => {
  if (fate !== null) {
    const end = { fate: word('fate', fate.kind), at: instantText(fate.at), by: fate.by };
    // It is what a pattern is made for, and needs no reason.
    return (
      <>
        {fate.kind === 'invested'
          ? t('work.invested', end)
          : t('work.ended', { ...end, reason: fate.reason })}
      </>
    );
  }
  if (verdict === null) return <>{t('work.no-outlook')}</>;
  return <VerdictMark verdict={verdict.code}>{verdict.text}</VerdictMark>;
};

interface LoadedProps {
  readonly pattern: PatternView;
  readonly version: number | null;
  readonly onChange: (next: PatternView) => void;
}

const Loaded = ({ pattern, version, onChange }: LoadedProps) => (
  <>
    <header class="work-head">
      <p class="dim">
        {pattern.id}
        {pattern.stationName !== null && ` · ${pattern.stationName}`}
      </p>
      <h1>{nameOfPattern(pattern)}</h1>
      <p class="work-verdict">
        <Outcome pattern={pattern} />
      </p>
      {pattern.verdict !== null && (
        <>
          <p>
            <DueMark {...pattern.verdict} />
          </p>
          <p class="dim">
            {t('work.as-of', { at: instantText(pattern.verdict.at) })} {pattern.verdict.note}
          </p>
        </>
      )}
    </header>
    <WaitingActs />
    {mayDo('tend-patterns') && <PatternActs pattern={pattern} onChange={onChange} />}
    <Figures pattern={pattern} />
    <PatternCasting pattern={pattern} version={version} onChange={onChange} />
    <History pattern={pattern} />
    <Label
      path={`/p/${pattern.id}`}
      title={nameOfPattern(pattern)}
      lines={[
        pattern.id,
        waxName(pattern.wax),
        instantText(pattern.madeAt),
        `${formatNumber(pattern.lengthMillimetres, 1, reader.value)} mm · ${formatNumber(pattern.toleranceMicrometres, 0, reader.value)} µm`,
      ]}
    />
  </>
);

export default function Pattern() {
  const { pattern: id = '' } = useRoute().params;
  const { value, version, trouble, setValue } = useLoaded<PatternView>(
    `/api/patterns/${encodeURIComponent(id)}`,
    { everyMillis: VERDICT_REFRESH_MILLIS },
  );
  useTitle(() => (value === null ? t('work.patterns') : nameOfPattern(value)));
  return (
    <div class="work has-label">
      <p class="row no-print">
        <a class="way" href="/patterns">
          {t('work.back')}
        </a>
      </p>
      {value === null && trouble?.status === 404 && <h1>{t('work.title-none')}</h1>}
      {value === null && trouble !== null && trouble.status !== 404 && (
        <>
          <WaitingActs />
          <TroubleNote trouble={trouble} />
        </>
      )}
      {value === null && trouble === null && <p role="status">{t('screen.loading')}</p>}
      {value !== null && <Loaded pattern={value} version={version} onChange={setValue} />}
    </div>
  );
}
