// The history of a station on its page and on that of a pattern: readings, working window, ceiling and alarms.

import { temperatureHistoryChart } from '../../../../charts/temperature-history.ts';
import type { AlarmView, ReadingsView, StationView } from '../../../../api/schemas.ts';
import { toneOf } from '../../../base/face.ts';
import { ruleName, t } from '../../../base/messages.ts';
import { now, reader } from '../../../live/lab-state.ts';
import { chartFormats } from './chart-formats.ts';
import { ChartPlace } from './chart-place.tsx';

interface TemperatureChartProps {
  readonly station: Pick<StationView, 'name' | 'windowLow' | 'windowHigh' | 'ceiling'>;
  readonly readings: readonly ReadingsView[];
  readonly alarms: readonly AlarmView[];
  /** Epoch milliseconds. */
  readonly from: number;
  readonly to: number;
}

const eventOf = ({ id, raisedAt, rule, priority }: AlarmView) => {
  const tone = toneOf(priority);
  return {
    id,
    x: Date.parse(raisedAt),
    text: ruleName(rule),
    tone: tone === 'calm' || tone === 'absent' ? ('plain' as const) : tone,
  };
};

/** `shown` is null while it is loaded. */
export const TemperatureChart = ({ shown }: { readonly shown: TemperatureChartProps | null }) => (
  <ChartPlace
    chart={
      shown &&
      temperatureHistoryChart(
        { ...shown, events: shown.alarms.map(eventOf) },
        chartFormats(reader.value, now.peek()),
        { label: t('chart.label', { station: shown.station.name }), ceiling: t('station.ceiling') },
      )
    }
  />
);
