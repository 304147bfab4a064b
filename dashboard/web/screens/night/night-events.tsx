// Heaters that stayed on, probes that were not well, alarms and what people did about them.

import { formatValues } from '../../../../words/quantity.ts';
import type { AlarmLine, HeaterLine, ProbeLine } from '../../../api/night.ts';
import { acknowledgementOf } from '../../../reports/night/acknowledgement.ts';
import { unmeasuredHeaters } from '../../../reports/night/unmeasured-heaters.ts';
import { formatDay, formatTime, type Reader } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { quantityFormat } from '../../live/lab-state.ts';

const texts = (line: HeaterLine | ProbeLine): string => line.reasons.map(({ text }) => text).join(' ');

export const NightHeaters = ({ heaters }: { readonly heaters: readonly HeaterLine[] }) => {
  const hot = heaters.filter(({ reasons }) => reasons.length > 0);
  const unmeasured = unmeasuredHeaters(heaters);
  return (
    <div>
      <h2>{t('night.heaters')}</h2>
      {hot.length === 0 && unmeasured === '' && <p>{t('night.nothing')}</p>}
      <ul>
        {hot.map((heater) => (
          <li key={heater.station}>
            <a href={`/station/${encodeURIComponent(heater.station)}`}>{heater.name}</a>
            {`: ${texts(heater)}`}
          </li>
        ))}
      </ul>
      {unmeasured !== '' && <p>{t('night.heaters-unmeasured', { names: unmeasured })}</p>}
    </div>
  );
};

export const NightProbes = ({ probes }: { readonly probes: readonly ProbeLine[] }) => (
  <div>
    <h2>{t('night.probes')}</h2>
    {probes.length === 0 && <p>{t('night.nothing')}</p>}
    <ul>
      {probes.map((probe) => (
        <li key={probe.probe}>{`${probe.probe} (${probe.stationName ?? '–'}): ${texts(probe)}`}</li>
      ))}
    </ul>
  </div>
);

/** Who answered, and after how long, written as on paper. */
const Answered = ({ alarm }: { readonly alarm: AlarmLine }) => {
  const acknowledgement = acknowledgementOf(alarm);
  if (acknowledgement === null) return <>{t('night.nobody')}</>;
  const { by, afterMinutes } = acknowledgement;
  return (
    <strong>
      {t('night.answered', formatValues({ by, after_minutes: afterMinutes }, quantityFormat.value))}
    </strong>
  );
};

/** The first acknowledgement is in its own sentence already, unless it gives a reason. */
const furtherActs = ({ acts }: AlarmLine): AlarmLine['acts'] => {
  const first = acts.find(({ kind }) => kind === 'acknowledged');
  return acts.filter((act) => act !== first || act.reason !== null);
};

export const NightAlarms = (props: { readonly alarms: readonly AlarmLine[]; readonly zoned: Reader }) => {
  const { alarms, zoned } = props;
  const at = (instant: string) => `${formatDay(instant, zoned)}, ${formatTime(instant, zoned)}`;
  return (
    <section>
      <h2>{t('night.alarms')}</h2>
      {alarms.length === 0 && <p>{t('night.nothing')}</p>}
      <ul class="sheet-alarms">
        {alarms.map((alarm) => (
          <li key={alarm.id}>
            <p>
              <strong>{at(alarm.raisedAt)}</strong>
              {` ${alarm.message} `}
              <span class="dim">
                {alarm.clearedAt === null
                  ? t('night.still-on')
                  : t('night.over', { at: at(alarm.clearedAt) })}
              </span>
            </p>
            <p class="dim">
              <Answered alarm={alarm} />{' '}
              {furtherActs(alarm)
                .map(
                  ({ by, kind, at: when, reason }) =>
                    `${by}: ${word('change', kind)}, ${at(when)}${reason === null ? '' : ` (${reason})`}`,
                )
                .join(' · ')}
            </p>
          </li>
        ))}
      </ul>
    </section>
  );
};
