// Whether this is a hand's screen: what `/` shows follows from it.

import { signal } from '@preact/signals';

const narrow = matchMedia('(max-width: 40rem)');
export const isPocket = signal(narrow.matches);
narrow.addEventListener('change', () => {
  isPocket.value = narrow.matches;
});
