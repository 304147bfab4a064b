// Sound on or off, tested today or not, muted for two minutes: the wall shows it in words, because a wall that
// cannot sound must not look like one that can.

import { changeSettings, settings } from '../../base/settings.ts';
import { t } from '../../base/messages.ts';
import { now } from '../../live/lab-state.ts';
import { armed, armSound, playBurst, silencedUntil } from './wall-sound.ts';

const DAY_MILLIS = 86_400_000;
const SILENCE_MILLIS = 120_000;

const arm = (): void => {
  void armSound().then(() => {
    playBurst('medium');
    changeSettings({ soundTestedAt: Date.now() });
  });
};

export const SoundControls = () => {
  if (!armed.value)
    return (
      <button type="button" class="sound" data-state="off" onClick={arm}>
        {t('sound.not-armed')}
      </button>
    );
  const due = Date.now() - settings.value.soundTestedAt > DAY_MILLIS;
  const quiet = silencedUntil.value > now.value;
  return (
    <span class="sound-pair">
      <button type="button" class="sound" data-state={due ? 'due' : 'on'} onClick={arm}>
        {due ? t('sound.test-due') : t('sound.armed')}
      </button>
      <button
        type="button"
        class="sound"
        data-state={quiet ? 'quiet' : 'on'}
        aria-pressed={quiet}
        onClick={() => {
          silencedUntil.value = quiet ? 0 : now.value + SILENCE_MILLIS;
        }}
      >
        {quiet ? t('sound.quiet') : t('sound.silence')}
      </button>
    </span>
  );
};
