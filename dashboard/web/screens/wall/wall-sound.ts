// The sound of the wall: bursts of a harmonic tone, more pulses for the worse, repeated until somebody
// acknowledges or silences. Pulse range and burst idea after what is reported of IEC 60601-1-8 (fundamental 150 to
// 1000 Hz, at least four harmonics within 300 to 4000 Hz); no claim to that standard is made.
// A browser lets a page sound only after a person touched it once, hence "armed".

import { computed, signal } from '@preact/signals';
import { byUrgency, isPast, needsHands } from '../../base/face.ts';
import { openAlarms } from '../../live/lab-state.ts';

const FUNDAMENTAL_HERTZ = 330;
const HARMONICS = [1, 2, 3, 4, 5] as const;
const PULSE_SECONDS = 0.16;
const LOUDNESS = 0.16;

export type SoundPriority = 'urgent' | 'high' | 'medium';

/** Starts of the pulses within a burst, and when the burst comes again, in seconds. */
const BURSTS: Readonly<
  Record<SoundPriority, { readonly starts: readonly number[]; readonly repeat_seconds: number }>
> = {
  urgent: { starts: [0, 0.24, 0.48, 0.96, 1.2], repeat_seconds: 8 },
  high: { starts: [0, 0.3, 0.6], repeat_seconds: 15 },
  medium: { starts: [0, 0.4], repeat_seconds: 30 },
};

export const armed = signal(false);
/** Until when the wall is muted, epoch milliseconds; muting acknowledges nothing. */
export const silencedUntil = signal(0);

/** Of the worst alarm that is so now and that nobody acknowledged; null when nothing calls for a sound. */
export const soundPriority = computed((): SoundPriority | null => {
  const worst = openAlarms.value
    .filter((alarm) => needsHands(alarm) && !isPast(alarm) && !alarm.acknowledged)
    .sort(byUrgency)[0]?.priority;
  return worst === 'urgent' || worst === 'high' || worst === 'medium' ? worst : null;
});

let context: AudioContext | null = null;

export const armSound = async (): Promise<void> => {
  context ??= new AudioContext();
  context.onstatechange = () => {
    armed.value = context?.state === 'running';
  };
  await context.resume();
  armed.value = context.state === 'running';
};

const pulse = (audio: AudioContext, start: number): void => {
  const gain = audio.createGain();
  gain.connect(audio.destination);
  gain.gain.setValueAtTime(0, start);
  gain.gain.linearRampToValueAtTime(LOUDNESS, start + 0.02);
  gain.gain.setValueAtTime(LOUDNESS, start + PULSE_SECONDS - 0.03);
  gain.gain.linearRampToValueAtTime(0, start + PULSE_SECONDS);
  for (const harmonic of HARMONICS) {
    const tone = audio.createOscillator();
    const level = audio.createGain();
    level.gain.value = 1 / Math.sqrt(harmonic);
    tone.frequency.value = FUNDAMENTAL_HERTZ * harmonic;
    tone.connect(level).connect(gain);
    tone.start(start);
    tone.stop(start + PULSE_SECONDS);
  }
};

export const playBurst = (priority: SoundPriority): void => {
  if (context?.state !== 'running') return;
  for (const start of BURSTS[priority].starts) pulse(context, context.currentTime + 0.05 + start);
};

/** Sounds at the priority that `priorityNow` returns, until the returned function is called. */
export const startSounding = (priorityNow: () => SoundPriority | null): (() => void) => {
  let soundedAt = 0;
  let sounded: SoundPriority | null = null;
  const timer = setInterval(() => {
    const priority = priorityNow();
    const at = performance.now() / 1000;
    if (priority === null) {
      sounded = null;
      return;
    }
    if (priority === sounded && at - soundedAt < BURSTS[priority].repeat_seconds) return;
    sounded = priority;
    soundedAt = at;
    playBurst(priority);
  }, 250);
  return () => clearInterval(timer);
};
