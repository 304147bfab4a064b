// The probes that publish and belong to no station yet, with their latest values, so that a person can tell by a warm
// hand which is which; and how to publish another one.

import { formatAge, formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { now, probes, reader } from '../../live/lab-state.ts';
import { PublishLine } from './publish-line.tsx';

export const SeenProbes = (props: {
  readonly chosen: string | null;
  readonly onChoose: (id: string) => void;
}) => {
  const free = probes.value.filter((probe) => !probe.claimed);
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
              </span>
              <span>
                <strong>
                  {probe.celsius === null ? '–' : formatTemperature(probe.celsius, reader.value)}
                </strong>{' '}
                <span class="dim">
                  {probe.at === null
                    ? t('station.never')
                    : formatAge((now.value - Date.parse(probe.at)) / 1000, reader.value)}
                </span>
              </span>
            </label>
          ))}
          <p class="dim">{t('begin.warm')}</p>
        </fieldset>
      )}
      <div class="card">
        {free.length === 0 && <p role="status">{t('begin.waits')}</p>}
        <PublishLine />
        <p>
          <a href="/quarantine">{t('home.quarantine')}</a>
        </p>
      </div>
    </>
  );
};
