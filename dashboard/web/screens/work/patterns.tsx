// The patterns by the time that is left, each with its verdict: what must be seen to first comes first.

import { useState } from 'preact/hooks';
import type { PatternView } from '../../../api/patterns.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t, waxName, word } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { now } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { VERDICT_REFRESH_MILLIS } from '../common/bench/next-pattern.ts';
import { DueMark, VerdictMark } from '../common/bench/verdict-mark.tsx';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import '../../forms/work.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';
import { instantText } from '../../live/instant-text.ts';

/** Of an instant by which to invest; null is never. */
export const dueText = (due: string | null): string => {
  if (due === null) return t('work.invest-by-none');
  return Date.parse(due) <= now.value ? t('work.invest-by-past') : instantText(due);
};

const newestVerdict = (patterns: readonly PatternView[]): string | null =>
  patterns
    .flatMap(({ verdict }) => (verdict === null ? [] : [verdict.at]))
    .sort()
    .at(-1) ?? null;

const Verdict = ({ pattern: { fate, verdict } }: { readonly pattern: PatternView }) => {
  if (fate !== null) return <strong>{word('fate', fate.kind)}</strong>;
  return verdict === null ? (
    <strong>{t('work.no-outlook')}</strong>
  ) : (
    <VerdictMark verdict={verdict.code}>{verdict.text}</VerdictMark>
  );
};

export default function Patterns() {
  const [all, setAll] = useState(false);
  const { value, trouble } = useLoaded<readonly PatternView[]>(`/api/patterns${all ? '?state=all' : ''}`, {
    everyMillis: VERDICT_REFRESH_MILLIS,
  });
  const asOf = newestVerdict(value ?? []);
  useTitle(() => t('work.patterns'));
  return (
    <div class="work">
      <header class="row work-head">
        <h1>{t('work.patterns')}</h1>
        {mayDo('tend-patterns') && <ActLink href="/patterns/new" text="work.register" isFirst />}
        <ActLink href="/fit-budget" text="work.fit" />
        <ActLink href="/fit-proof" text="work.proof" />
        <ActLink href="/lots" text="work.lots" />
      </header>
      <WaitingActs />
      {trouble !== null && <TroubleNote trouble={trouble} />}
      {value === null && trouble === null && <p role="status">{t('screen.loading')}</p>}
      <p class="row patterns-shown">
        <label class="tick">
          <input type="checkbox" checked={all} onChange={(event) => setAll(event.currentTarget.checked)} />{' '}
          {t('work.patterns-all')}
        </label>
        {asOf !== null && <span class="dim">{t('work.as-of', { at: instantText(asOf) })}</span>}
      </p>
      {value !== null && (
        <DataTable
          none={t('work.patterns-none')}
          rows={value}
          keyOf={(pattern) => pattern.id}
          columns={{
            [t('work.case')]: (pattern) => <a href={`/p/${pattern.id}`}>{nameOfPattern(pattern)}</a>,
            [t('work.verdict')]: (pattern) => <Verdict pattern={pattern} />,
            [t('work.due')]: (pattern) => (pattern.verdict === null ? '–' : <DueMark {...pattern.verdict} />),
            [t('work.lies')]: (pattern) => pattern.stationName ?? '–',
            [t('station.wax')]: (pattern) => waxName(pattern.wax),
            [t('work.id')]: (pattern) => pattern.id,
          }}
        />
      )}
    </div>
  );
}
