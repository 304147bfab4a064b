// The place of an interactive chart, reserved from the first paint so that nothing moves; its drawing is a large script.

import type { Chart } from '../../../../charts/chart.ts';
import { t } from '../../../base/messages.ts';
import { useWhenSeen } from '../../../base/use-when-seen.ts';
import './chart-place.css';

/** `chart` is null while its readings are loaded. */
export const ChartPlace = ({ chart }: { readonly chart: Chart | null }) => {
  const { place, part } = useWhenSeen(() => import('./interactive-chart.tsx'), chart !== null);
  return (
    <div class="chart" ref={place}>
      {part === 'absent' && <p role="status">{t('chart.absent')}</p>}
      {part !== null && part !== 'absent' && chart !== null && <part.InteractiveChart chart={chart} />}
    </div>
  );
};
