// The figures that a station is judged by. Each with its standing: published, common practice, from memory, or
// the lab's own; a figure without its source is not shown.

import type { StationView } from '../../../api/schemas.ts';
import { DataTable } from '../../base/data-table.tsx';
import { FactList } from '../../base/fact-list.tsx';
import {
  formatDay,
  formatDifference,
  formatNumber,
  formatPercent,
  formatSignificant,
  formatTemperature,
} from '../../base/format.ts';
import { type MessageKey, t, waxName, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { mayDo } from '../../live/session.ts';
import { reader } from '../../live/lab-state.ts';

const LIMITS: readonly (readonly ['windowLow' | 'windowHigh' | 'ceiling', MessageKey])[] = [
  ['windowLow', 'station.window-low'],
  ['windowHigh', 'station.window-high'],
  ['ceiling', 'station.ceiling'],
];

/** Shortening of a cylinder in the flow test: how soft it is at this temperature. */
const flowText = (flow: StationView['flow']): string | null => {
  if (flow === undefined || flow === null) return null;
  const { atLeastPercent, atMostPercent, standing } = flow;
  const number = (value: number): string => formatNumber(value, value < 10 ? 1 : 0, reader.value);
  const band = [
    ...(atLeastPercent === null ? [] : [t('station.flow-least', { value: number(atLeastPercent) })]),
    ...(atMostPercent === null ? [] : [t('station.flow-most', { value: number(atMostPercent) })]),
  ].join(', ');
  return `${band} (${word('standing', standing)})`;
};

/** What the temperature does to melted wax. */
const ageingText = (ageing: StationView['ageing']): string | null => {
  if (ageing === undefined || ageing === null) return null;
  const { ageingTimes, evaporationTimes, referenceCelsius, standing } = ageing;
  return t('station.ageing-of', {
    ageing: formatSignificant(ageingTimes, reader.value, 2),
    evaporation: formatSignificant(evaporationTimes, reader.value, 2),
    reference: formatTemperature(referenceCelsius, reader.value),
    standing: word('standing', standing),
  });
};

export const StationFigures = ({ station }: { readonly station: StationView }) => {
  const read = reader.value;
  const hours = station.doseEquivalentHours;
  return (
    <section class="figures">
      <h2>{t('station.figures')}</h2>
      {mayDo('set-up-lab') && (
        <p>
          <a class="way" href={`/set-up/rules?station=${encodeURIComponent(station.id)}`}>
            {t('rule-figures.title')}
          </a>
        </p>
      )}
      <DataTable
        rows={LIMITS.map(([name, label]) => ({ label, figure: station[name] }))}
        keyOf={({ label }) => label}
        columns={{
          [t('figure.what')]: ({ label }) => t(label),
          [t('figure.value')]: {
            figures: ({ figure }) =>
              figure === null ? t('station.no-limit') : formatTemperature(figure.value, read),
          },
          [t('figure.standing')]: ({ figure }) => figure && word('standing', figure.standing),
          [t('figure.source')]: ({ figure }) =>
            figure && <span class="dim">{sourceText(figure.source, true)}</span>,
        }}
      />
      <FactList
        facts={[
          [t('station.wax'), station.wax ? waxName(station.wax) : t('station.no-wax')],
          [t('station.charge-since'), station.chargeSince && formatDay(station.chargeSince, read)],
          [
            t('station.charge-grams'),
            station.chargeGrams === null ? null : `${formatNumber(station.chargeGrams, 0, read)} g`,
          ],
          [
            t('station.dose'),
            station.doseShare === null
              ? null
              : t('station.dose-of', {
                  share: formatPercent(station.doseShare, read),
                  hours: hours === null ? '–' : formatNumber(hours, 1, read),
                }),
          ],
          [t('station.ageing'), ageingText(station.ageing)],
          [t('station.flow'), flowText(station.flow)],
          [
            t('station.swing'),
            station.swingCelsius === null ? null : formatDifference(station.swingCelsius, read),
          ],
          [t('nav.probes'), station.probes.length === 0 ? null : station.probes.join(', ')],
        ]}
      />
    </section>
  );
};
