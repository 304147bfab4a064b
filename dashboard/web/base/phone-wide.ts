// Whether the page is as narrow as on a phone: what `/` shows and how charts are laid out follow from it.

import { signal } from '@preact/signals';

const narrow = matchMedia('(max-width: 40rem)');
export const isPhoneWide = signal(narrow.matches);
narrow.addEventListener('change', () => {
  isPhoneWide.value = narrow.matches;
});
