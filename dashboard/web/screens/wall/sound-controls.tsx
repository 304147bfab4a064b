// Whether the wall can sound, in one word that is also the button: off, to be tested today, on, muted. A wall that
// cannot sound must not look like one that can.

import { changeSettings, settings } from '../../base/settings.ts';
import { t } from '../../base/messages.ts';
import { now } from '../../live/lab-state.ts';
import { armed, armSound, playBurst, silencedUntil, soundPriority } from './wall-sound.ts';

const DAY_MILLIS = 86_400_000;
const SILENCE_MILLIS = 120_000;

const arm = (): void => {
  void armSound().then(() => {
    playBurst('medium');
    changeSettings({ soundTestedAt: Date.now() });
  });
};
const mute = (): void => {
  silencedUntil.value = now.value + SILENCE_MILLIS;
};
const unmute = (): void => {
  silencedUntil.value = 0;
};

const soundNow = () => {
  if (!armed.value) return { state: 'off', key: 'sound.not-armed', hint: 'sound.hint', act: arm } as const;
  if (silencedUntil.value > now.value)
    return { state: 'quiet', key: 'sound.quiet', hint: 'sound.unmute', act: unmute } as const;
  if (soundPriority.value !== null)
    return { state: 'on', key: 'sound.silence', hint: 'sound.silence', act: mute } as const;
  if (Date.now() - settings.value.soundTestedAt > DAY_MILLIS)
    return { state: 'due', key: 'sound.test-due', hint: 'sound.hint-test', act: arm } as const;
  return { state: 'on', key: 'sound.armed', hint: 'sound.hint-test', act: arm } as const;
};

export const SoundControls = () => {
  const { state, key, hint, act } = soundNow();
  return (
    <button type="button" class="sound" data-state={state} title={t(hint)} onClick={act}>
      {t(key)}
    </button>
  );
};
