// The settings of this screen's reader: kept in the browser, so that a wall, a phone and a desk each keep
// their own. Nothing here is known to the server.

import { computed, signal } from '@preact/signals';
import { languages } from 'virtual:words';

export interface ScreenSettings {
  /** The name of a folder of words. */
  readonly language: string;
  readonly unit: 'celsius' | 'fahrenheit';
  readonly hourCycle: 'h12' | 'h23';
  readonly theme: 'dark' | 'light' | 'system';
  readonly distance_metres: number;
  readonly diagonal_inches: number;
  readonly nightDimming: boolean;
  /** Wall-clock, `HH:MM`, in the lab's zone. */
  readonly nightFrom: string;
  readonly nightTo: string;
  /** Instant of the last sound test that a person confirmed, epoch milliseconds; 0 for never. */
  readonly soundTestedAt: number;
}

const KEY = 'waxwarden.settings';

/** The first of the browser's languages that there are words for. */
const browserLanguage = (): string =>
  navigator.languages
    .flatMap((tag) => [tag, tag.split('-')[0] ?? tag])
    .find((code) => languages[code] !== undefined) ?? 'en';

const defaults = (): ScreenSettings => ({
  language: browserLanguage(),
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

const readStored = (): Partial<ScreenSettings> => {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<ScreenSettings>;
  } catch {
    // A store that is full, forbidden or garbled must not keep a screen dark.
    return {};
  }
};

const remembered = { ...defaults(), ...readStored() };

export const settings = signal<ScreenSettings>(
  languages[remembered.language] === undefined ? { ...remembered, language: browserLanguage() } : remembered,
);

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

/** Paper is light, whatever the screen is. */
const isPrinting = signal(false);
addEventListener('beforeprint', () => {
  isPrinting.value = true;
});
addEventListener('afterprint', () => {
  isPrinting.value = false;
});

export const theme = computed(() => {
  if (isPrinting.value) return 'light';
  return settings.value.theme === 'system' ? systemTheme.value : settings.value.theme;
});
