// What heaters did while the lab was closed: hours at work, energy, and what that did to the wax and spared it.

import type { HeaterMonth, MonthSheet } from '../../../api/month.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber, type Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { isMeasured, sum } from './month-figures.ts';

const MINUTES_PER_HOUR = 60;

const hoursText = (minutes: number, zoned: Reader): string =>
  `${formatNumber(minutes / MINUTES_PER_HOUR, 1, zoned)} h`;

const doseText = (hours: number | null, zoned: Reader): string =>
  hours === null ? '–' : `${formatNumber(hours, 1, zoned)} h`;

/** The month in one sentence; energy only of those heaters whose power is set. */
const summary = (heaters: readonly HeaterMonth[], zoned: Reader): string => {
  const hours = formatNumber(sum(heaters.map(({ onMinutes }) => onMinutes)) / MINUTES_PER_HOUR, 1, zoned);
  const energies = heaters.flatMap(({ kilowattHours }) => kilowattHours ?? []);
  if (energies.length === 0) return t('month.heaters-hours', { hours });
  const energy = formatNumber(sum(energies), 1, zoned);
  return t('month.heaters-energy', { hours, energy, with: energies.length, all: heaters.length });
};

export const MonthHeaters = ({ sheet, zoned }: { readonly sheet: MonthSheet; readonly zoned: Reader }) => {
  const measured = sheet.heaters.filter(isMeasured);
  return (
    <section>
      <h2>{t('month.heaters')}</h2>
      {sheet.heaters.length === 0 && <p>{t('month.heaters-none')}</p>}
      {sheet.heaters.length > 0 && (
        <>
          <p>{measured.length === 0 ? t('month.heaters-unseen') : summary(measured, zoned)}</p>
          <DataTable
            rows={sheet.heaters}
            keyOf={(heater) => heater.station}
            columns={{
              [t('month.heater')]: (heater) => (
                <a href={`/station/${encodeURIComponent(heater.station)}`}>{heater.name}</a>
              ),
              [t('month.on-hours')]: {
                figures: (heater) => (isMeasured(heater) ? hoursText(heater.onMinutes, zoned) : '–'),
              },
              [t('month.energy')]: {
                figures: (heater) =>
                  heater.kilowattHours === null || !isMeasured(heater)
                    ? '–'
                    : `${formatNumber(heater.kilowattHours, 1, zoned)} kWh`,
              },
              [t('month.dose-closed')]: {
                figures: (heater) => (isMeasured(heater) ? doseText(heater.doseHours, zoned) : '–'),
              },
              [t('month.dose-spared')]: {
                figures: (heater) => (isMeasured(heater) ? doseText(heater.sparedDoseHours, zoned) : '–'),
              },
              [t('month.unseen')]: { figures: (heater) => hoursText(heater.unseenMinutes, zoned) },
            }}
          />
          <p class="dim">{t('month.heaters-note')}</p>
          {!sheet.hoursKnown && <p class="dim">{t('month.usual-nights')}</p>}
        </>
      )}
    </section>
  );
};
