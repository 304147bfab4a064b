// The place of a chart, reserved from the first paint so that nothing moves; its drawing is a large script and comes
// when the page has nothing else to do.

import { useEffect, useRef, useState } from 'preact/hooks';
import { t } from '../../base/messages.ts';
import type { ChartDrawing, ChartProps } from './chart-drawing.tsx';

type Drawing = typeof ChartDrawing;
type Stage = { readonly drawing: Drawing } | 'absent' | null;

/** Not every phone tells when it is idle. */
const LATER_MILLIS = 300;
const whenIdle = (work: () => void): void => {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work);
  else setTimeout(work, LATER_MILLIS);
};

/** Asked for when `isDue` and the place comes near what is seen; the numbers of the page go before it. */
const useDrawing = (isDue: boolean) => {
  const place = useRef<HTMLDivElement>(null);
  const [stage, setStage] = useState<Stage>(null);
  useEffect(() => {
    if (!isDue || place.current === null) return () => undefined;
    const watch = new IntersectionObserver((seen) => {
      if (!seen.some(({ isIntersecting }) => isIntersecting)) return;
      watch.disconnect();
      whenIdle(() => {
        import('./chart-drawing.tsx').then(
          // Loading it is one piece of work and drawing another, so that a tap between them is answered.
          ({ ChartDrawing: drawing }) => whenIdle(() => setStage({ drawing })),
          () => setStage('absent'),
        );
      });
    });
    watch.observe(place.current);
    return () => watch.disconnect();
  }, [isDue]);
  return { place, stage };
};

/** `shown` is null while it is being read. */
export const TemperatureChart = ({ shown }: { readonly shown: ChartProps | null }) => {
  const { place, stage } = useDrawing(shown !== null);
  const Drawing = stage !== null && stage !== 'absent' ? stage.drawing : null;
  return (
    <div class="chart" ref={place}>
      {stage === 'absent' && <p role="status">{t('chart.absent')}</p>}
      {Drawing !== null && shown !== null && <Drawing {...shown} />}
    </div>
  );
};
