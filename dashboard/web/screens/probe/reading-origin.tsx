// A stored reading traced back to what came in.

import type { ReadingOriginView } from '../../../api/probe-detail.ts';
import { formatDifference, formatNumber, formatTemperature } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { troubleText } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { instantText } from '../../live/instant-text.ts';

const correctionText = ({ correction }: ReadingOriginView): string => {
  if (correction === null) return t('probe-page.origin-uncorrected');
  const { calibrationDay, correction_celsius } = correction;
  return calibrationDay === null
    ? t('probe-page.origin-correction', {
        correction: formatDifference(correction_celsius ?? 0, reader.value, 2),
      })
    : t('probe-page.origin-calibration', { day: calibrationDay });
};

const Origin = ({ origin }: { readonly origin: ReadingOriginView }) => (
  <ol>
    <li>
      {t('probe-page.origin-stored', {
        at: instantText(origin.at),
        value: formatTemperature(origin.celsius, reader.value, 3),
        quality: word('quality', origin.quality),
      })}
    </li>
    <li>{correctionText(origin)}</li>
    <li>
      {t('probe-page.origin-measured', {
        value: formatTemperature(origin.measured_celsius, reader.value, 3),
      })}
    </li>
    {origin.electrical === null ? (
      <li>{t(origin.sensor === null ? 'probe-page.origin-degrees' : 'probe-page.origin-lost')}</li>
    ) : (
      <li>
        {t('probe-page.origin-electrical', {
          value: formatNumber(origin.electrical.value, 4, reader.value),
          unit: origin.electrical.unit === 'Ohm' ? 'Ω' : 'mV',
        })}
        {origin.coldJunction_celsius !== null &&
          ` ${t('probe-page.origin-junction', {
            value: formatTemperature(origin.coldJunction_celsius, reader.value, 2),
          })}`}
      </li>
    )}
  </ol>
);

/** `at` is an ISO 8601 instant; null: the newest reading. */
export const ReadingOrigin = ({ probe, at }: { readonly probe: string; readonly at: string | null }) => {
  const asked = at === null ? '' : `?at=${encodeURIComponent(at)}`;
  const { value, trouble } = useLoaded<ReadingOriginView>(
    `/api/probes/${encodeURIComponent(probe)}/origin${asked}`,
  );
  return (
    <section aria-live="polite">
      <h2>{t('probe-page.origin')}</h2>
      <p class="dim">{t('probe-page.origin-explain')}</p>
      {trouble && <p>{troubleText(trouble)}</p>}
      {value && !trouble && <Origin origin={value} />}
    </section>
  );
};
