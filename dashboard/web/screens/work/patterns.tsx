// The patterns by the time that is left: what must be invested first stands first.

import { useSignalEffect } from '@preact/signals';
import { useState } from 'preact/hooks';
import type { PatternView } from '../../../api/patterns.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatInstant, formatNumber } from '../../base/format.ts';
import { t, waxName, word } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { now, reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import '../../forms/work.css';

/** Of an instant by which to invest; null is never. */
export const dueText = (due: string | null): string => {
  if (due === null) return t('work.invest-by-none');
  return Date.parse(due) <= now.value
    ? t('work.invest-by-past')
    : formatInstant(due, now.value, reader.value);
};

export const investByText = (pattern: PatternView): string => {
  if (pattern.fate !== null) return word('fate', pattern.fate.kind);
  return pattern.outlook === null ? '–' : dueText(pattern.investBy);
};

export const errorText = ({ outlook }: PatternView): string => {
  if (outlook === null) return '–';
  const round = (value: number) => formatNumber(value, 0, reader.value);
  return t('work.error-band', {
    value: round(outlook.predictedMicrometres),
    low: round(outlook.lowMicrometres),
    high: round(outlook.highMicrometres),
  });
};

export default function Patterns() {
  const [all, setAll] = useState(false);
  const { value, trouble } = useLoaded<readonly PatternView[]>(`/api/patterns${all ? '?state=all' : ''}`);
  useSignalEffect(() => {
    document.title = t('work.patterns');
  });
  return (
    <div class="work">
      <header class="row work-head">
        <h1>{t('work.patterns')}</h1>
        {mayDo('tend-patterns') && (
          <a class="act" data-first="true" href="/patterns/new">
            {t('work.register')}
          </a>
        )}
        <a class="act" href="/fit-budget">
          {t('work.fit')}
        </a>
      </header>
      <WaitingActs />
      {trouble !== null && <TroubleNote trouble={trouble} />}
      <p>
        <label class="tick">
          <input type="checkbox" checked={all} onChange={(event) => setAll(event.currentTarget.checked)} />{' '}
          {t('work.patterns-all')}
        </label>
      </p>
      {value?.length === 0 && <p class="note">{t('work.patterns-none')}</p>}
      {value !== null && value.length > 0 && (
        <DataTable
          columns={[
            t('work.case'),
            t('work.invest-by'),
            t('work.error'),
            t('work.lies'),
            t('station.wax'),
            t('work.id'),
          ]}
          rows={value.map((pattern) => ({
            key: pattern.id,
            cells: [
              <a href={`/p/${pattern.id}`}>{pattern.caseReference}</a>,
              <strong>{investByText(pattern)}</strong>,
              errorText(pattern),
              pattern.stationName ?? '–',
              waxName(pattern.wax),
              pattern.id,
            ],
          }))}
        />
      )}
    </div>
  );
}
