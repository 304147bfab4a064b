// What is in to soften: how warm its core is by conduction, and when it will be soft.

import type { StationView } from '../../../api/schemas.ts';
import { formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';

export const LoadNow = ({ load }: { readonly load: NonNullable<StationView['load']> }) => {
  const { coreCelsius, softCelsius, softToTheCoreAt: softAt } = load;
  const minutes = softAt === null ? null : (Date.parse(softAt) - now.value) / 60_000;
  const degrees = (celsius: number): string => formatTemperature(celsius, reader.value);
  return (
    <div role="status">
      <p class="work-verdict">
        {minutes === null
          ? t('work.soft-unknown', { load: load.load })
          : minutes <= 0
            ? t('work.soft-now', { load: load.load })
            : t('work.soft-in', { load: load.load, minutes: Math.ceil(minutes) })}
      </p>
      {coreCelsius !== null && softCelsius !== null && (
        <p class="dim">{t('work.core-line', { core: degrees(coreCelsius), soft: degrees(softCelsius) })}</p>
      )}
    </div>
  );
};
