// The probes that publish and belong to no station yet, each with its last minutes, so that a person can tell by a warm
// hand which is which; and how to publish another one.

import { useRef } from 'preact/hooks';
import { formatDifference } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { now, probes, reader } from '../../live/lab-state.ts';
import { TestReading } from './test-reading.tsx';
import { PublishLine } from './publish-line.tsx';
import {
  rise,
  type TracePoint,
  type Traces,
  traceLine,
  tracesWith,
  findWarmedProbe,
} from './warmed-probe.ts';
import { ageOf, probeValue } from '../../live/probe-text.ts';

const Trace = ({
  points,
  isWarmed,
}: {
  readonly points: readonly TracePoint[];
  readonly isWarmed: boolean;
}) => {
  const kelvins = rise(points);
  return (
    <span class="seen-trace">
      <svg viewBox="0 0 100 20" preserveAspectRatio="none" aria-hidden="true">
        {points.length > 0 && <polyline points={traceLine(points, now.value)} />}
      </svg>
      {isWarmed && kelvins !== null && (
        <strong>{t('begin.rises', { kelvins: formatDifference(kelvins, reader.value) })}</strong>
      )}
    </span>
  );
};

export const SeenProbes = (props: {
  readonly chosen: string | null;
  readonly onChoose: (id: string) => void;
}) => {
  const traces = useRef<Traces>(new Map());
  const free = probes.value.filter((probe) => !probe.claimed && !probe.retired);
  traces.current = tracesWith(traces.current, free);
  const warmed = findWarmedProbe(traces.current);
  return (
    <>
      {free.length > 0 && (
        <fieldset>
          <legend>{t('begin.seen')}</legend>
          {free.map((probe) => (
            <label class="seen-probe" key={probe.id}>
              <input
                type="radio"
                name="probe"
                checked={props.chosen === probe.id}
                onChange={() => props.onChoose(probe.id)}
              />
              <span>
                <strong>{probe.id}</strong> <span class="dim">{probe.gateway}</span>
                <Trace points={traces.current.get(probe.id) ?? []} isWarmed={warmed === probe.id} />
              </span>
              <span>
                <strong>{probeValue(probe)}</strong> <span class="dim">{ageOf(probe.at)}</span>
              </span>
            </label>
          ))}
          <p class="dim">{t('begin.warm')}</p>
        </fieldset>
      )}
      <div class="card">
        {free.length === 0 && <p role="status">{t('begin.waits')}</p>}
        <TestReading onSent={props.onChoose} />
        <PublishLine />
        <p>
          <a class="way" href="/quarantine">
            {t('home.quarantine')}
          </a>
        </p>
      </div>
    </>
  );
};
