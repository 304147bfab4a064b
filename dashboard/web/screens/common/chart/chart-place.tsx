// The place of an interactive chart, reserved from the first paint so that nothing moves; its drawing is a large script
// and is loaded when the page has nothing else to do.

import { useEffect, useRef, useState } from 'preact/hooks';
import type { Chart } from '../../../../charts/chart.ts';
import { t } from '../../../base/messages.ts';
import { whenIdle } from '../../../base/when-idle.ts';
import type { InteractiveChart } from './interactive-chart.tsx';
import './chart-place.css';

type Stage = { readonly drawing: typeof InteractiveChart } | 'absent' | null;

/** Loaded when `isDue` and the place is near the visible part of the page; the numbers of the page go before it. */
const useDrawing = (isDue: boolean) => {
  const place = useRef<HTMLDivElement>(null);
  const [stage, setStage] = useState<Stage>(null);
  useEffect(() => {
    if (!isDue || place.current === null) return () => undefined;
    const observer = new IntersectionObserver((entries) => {
      if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
      observer.disconnect();
      whenIdle(() => {
        import('./interactive-chart.tsx').then(
          // Loading it is one piece of work and drawing another, so that a tap between them is answered.
          ({ InteractiveChart: drawing }) => whenIdle(() => setStage({ drawing })),
          () => setStage('absent'),
        );
      });
    });
    observer.observe(place.current);
    return () => observer.disconnect();
  }, [isDue]);
  return { place, stage };
};

/** `chart` is null while its readings are loaded. */
export const ChartPlace = ({ chart }: { readonly chart: Chart | null }) => {
  const { place, stage } = useDrawing(chart !== null);
  const Drawing = stage !== null && stage !== 'absent' ? stage.drawing : null;
  return (
    <div class="chart" ref={place}>
      {stage === 'absent' && <p role="status">{t('chart.absent')}</p>}
      {Drawing !== null && chart !== null && <Drawing chart={chart} />}
    </div>
  );
};
