// What every screen shows while the demonstration's past is simulated: how far it is. Its readings race by and are
// no present, so none of them is shown.

import { preparing } from '../live/lab-state.ts';
import { t } from '../base/messages.ts';

export const Preparing = () => {
  const percent = Math.round(100 * (preparing.value ?? 1));
  return (
    <main class="preparing">
      <h1>{t('preparing.title', { percent })}</h1>
      <progress max={100} value={percent} aria-label={t('preparing.label')} />
      <p>{t('preparing.explain')}</p>
    </main>
  );
};
