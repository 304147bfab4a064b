// What this screen remembers of its reader: kept in the browser, so that a wall, a phone and a desk each keep
// their own. Nothing here is known to the server.

import { computed, signal } from '@preact/signals';

export interface ScreenSettings {
  readonly language: 'en' | 'de';
  readonly unit: 'celsius' | 'fahrenheit';
  readonly hourCycle: 'h12' | 'h23';
  readonly theme: 'dark' | 'light' | 'system';
  readonly distance_metres: number;
  readonly diagonal_inches: number;
  readonly nightDimming: boolean;
  /** Wall-clock, `HH:MM`, in the lab's zone. */
  readonly nightFrom: string;
  readonly nightTo: string;
  /** Instant of the last sound test heard by a person, epoch milliseconds; 0 for never. */
  readonly soundTestedAt: number;
}

const KEY = 'waxwarden.settings';

const defaults = (): ScreenSettings => ({
  language: navigator.language.startsWith('de') ? 'de' : 'en',
  unit: navigator.language === 'en-US' ? 'fahrenheit' : 'celsius',
  hourCycle: navigator.language === 'en-US' ? 'h12' : 'h23',
  theme: 'system',
  distance_metres: 4,
  diagonal_inches: 43,
  nightDimming: true,
  nightFrom: '20:00',
  nightTo: '06:00',
  soundTestedAt: 0,
});

const stored = (): Partial<ScreenSettings> => {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<ScreenSettings>;
  } catch {
    // A store that is full, forbidden or garbled must not keep a screen dark.
    return {};
  }
};

export const settings = signal<ScreenSettings>({ ...defaults(), ...stored() });

export const changeSettings = (change: Partial<ScreenSettings>): void => {
  settings.value = { ...settings.value, ...change };
  try {
    localStorage.setItem(KEY, JSON.stringify(settings.value));
  } catch {
    // The choice still holds until the page is left.
  }
};

const prefersLight = matchMedia('(prefers-color-scheme: light)');
const systemTheme = signal<'dark' | 'light'>(prefersLight.matches ? 'light' : 'dark');
prefersLight.addEventListener('change', () => {
  systemTheme.value = prefersLight.matches ? 'light' : 'dark';
});

export const theme = computed(() =>
  settings.value.theme === 'system' ? systemTheme.value : settings.value.theme,
);
