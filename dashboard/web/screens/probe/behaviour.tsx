// How the probe behaved in the last day: by itself, beside the other probes of its station, and against a day on which
// it was known to be right.

import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { ProbeBehaviourView } from '../../../api/probe-detail.ts';
import { ActButton } from '../../base/act-button.tsx';
import { DataTable } from '../../base/data-table.tsx';
import { type Fact, FactList } from '../../base/fact-list.tsx';
import { formatAge, formatDifference, formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { TextEntry } from '../../forms/entries.tsx';
import { Refusal } from '../../forms/saving.tsx';
import { reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { instantText } from '../../live/instant-text.ts';

const REFRESH_MILLIS = 60_000;

const kelvins = (value: number | null): string =>
  value === null ? '–' : formatDifference(value, reader.value, 2);
const span = (seconds: number | null): string => (seconds === null ? '–' : formatAge(seconds, reader.value));

const Health = ({ health }: Pick<ProbeBehaviourView, 'health'>) => {
  const facts: readonly Fact[] = [
    [t('probe-page.readings'), health.readings],
    [t('probe-page.interval'), span(health.interval_seconds)],
    [t('probe-page.gap'), span(health.longestGap_seconds)],
    [t('probe-page.same'), span(health.longestSame_seconds)],
    [t('probe-page.noise'), kelvins(health.noise_celsius)],
    [t('probe-page.spikes'), health.spikes],
    [t('probe-page.jumps'), health.jumps],
  ];
  return (
    <div class="figures">
      <FactList facts={facts} />
    </div>
  );
};

const Marks = (props: Pick<ProbeBehaviourView, 'health'> & { readonly onTrace: (at: string) => void }) => {
  const { newestSpikes, newestJumps } = props.health;
  if (newestSpikes.length + newestJumps.length === 0) return null;
  const mark = (at: string, text: ComponentChildren) => (
    <li key={at}>
      {text} <ActButton text={t('probe-page.trace')} onClick={() => props.onTrace(at)} />
    </li>
  );
  return (
    <details>
      <summary>{t('probe-page.marks')}</summary>
      <p class="dim">{t('probe-page.marks-stay')}</p>
      <ul>
        {newestSpikes.map(({ at, celsius, expected_celsius }) =>
          mark(
            at,
            t('probe-page.spike-at', {
              at: instantText(at),
              value: formatTemperature(celsius, reader.value),
              expected: formatTemperature(expected_celsius, reader.value),
            }),
          ),
        )}
        {newestJumps.map(({ at, from_celsius, to_celsius }) =>
          mark(
            at,
            t('probe-page.jump-at', {
              at: instantText(at),
              from: formatTemperature(from_celsius, reader.value),
              to: formatTemperature(to_celsius, reader.value),
            }),
          ),
        )}
      </ul>
    </details>
  );
};

const Twins = ({ twins }: Pick<ProbeBehaviourView, 'twins'>) => (
  <DataTable
    none={t('probe-page.no-twin')}
    rows={twins}
    keyOf={(twin) => twin.probe}
    columns={{
      [t('probes.probe')]: (twin) => <a href={`/probe/${encodeURIComponent(twin.probe)}`}>{twin.probe}</a>,
      [t('probe-page.mean-difference')]: { figures: (twin) => kelvins(twin.meanDifference_celsius) },
      [t('probe-page.greatest-difference')]: { figures: (twin) => kelvins(twin.greatestDifference_celsius) },
      [t('probe-page.allowed')]: { figures: (twin) => `± ${kelvins(twin.allowed_celsius)}` },
      [t('probe-page.agreement')]: (twin) =>
        t(
          Math.abs(twin.meanDifference_celsius) <= twin.allowed_celsius
            ? 'probe-page.agrees'
            : 'probe-page.disagrees',
        ),
    }}
  />
);

const Drift = ({ drift }: Pick<ProbeBehaviourView, 'drift'>) => {
  if (drift === null) return <p>{t('probe-page.drift-none')}</p>;
  const { then_celsius, now_celsius, fromTwins } = drift;
  if (then_celsius === null || now_celsius === null)
    return <p>{t('probe-page.drift-empty', { day: drift.day })}</p>;
  return (
    <>
      <ul>
        <li>
          {t('probe-page.drift-level', {
            day: drift.day,
            before: formatTemperature(then_celsius, reader.value, 2),
            now: formatTemperature(now_celsius, reader.value, 2),
          })}
        </li>
        {fromTwins.map(({ probe, change_celsius }) => (
          <li key={probe}>
            {t('probe-page.drift-twin', { day: drift.day, probe, change: kelvins(change_celsius) })}
          </li>
        ))}
      </ul>
      <p class="dim">{t('probe-page.drift-note')}</p>
    </>
  );
};

export const Behaviour = (props: { readonly probe: string; readonly onTrace: (at: string) => void }) => {
  const [day, setDay] = useState('');
  const asked = day === '' ? '' : `?reference=${day}`;
  const { value, trouble, reload } = useLoaded<ProbeBehaviourView>(
    `/api/probes/${encodeURIComponent(props.probe)}/behaviour${asked}`,
    { everyMillis: REFRESH_MILLIS },
  );
  return (
    <section>
      <h2>{t('probe-page.behaviour')}</h2>
      <Refusal trouble={trouble} retry={reload} />
      {value?.health.readings === 0 && <p>{t('probe-page.nothing')}</p>}
      {value && value.health.readings > 0 && (
        <>
          <Health health={value.health} />
          {value.isCutOff && <p class="dim">{t('probe-page.cut-off')}</p>}
          <Marks health={value.health} onTrace={props.onTrace} />
          <h3>{t('probe-page.twins')}</h3>
          <Twins twins={value.twins} />
          <h3>{t('probe-page.drift')}</h3>
          <Drift drift={value.drift} />
        </>
      )}
      {value && <TextEntry label="probe-page.drift-day" type="date" value={day} onChange={setDay} />}
    </section>
  );
};
