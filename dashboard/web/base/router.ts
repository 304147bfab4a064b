// The address is the state: a screen can be linked, bookmarked and opened on any machine.

import { computed, signal } from '@preact/signals';
import { routeOf } from './route.ts';

const address = signal(location.pathname);
/** Query of the address, for the screens that keep a choice in it. */
export const query = signal(new URLSearchParams(location.search));

const read = (): void => {
  address.value = location.pathname;
  query.value = new URLSearchParams(location.search);
};

export const route = computed(() => routeOf(address.value));

export const go = (to: string, replace = false): void => {
  history[replace ? 'replaceState' : 'pushState'](null, '', to);
  const moved = address.value !== location.pathname;
  read();
  if (moved) scrollTo(0, 0);
};

/** Plain links stay plain links; only a plain click on one of ours is taken over. */
export const startRouter = (): void => {
  addEventListener('popstate', read);
  document.addEventListener('click', (event) => {
    if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey)
      return;
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    if (!link || link.target || link.origin !== location.origin || link.hasAttribute('download')) return;
    if (link.pathname.startsWith('/api') || link.pathname === '/metrics') return;
    event.preventDefault();
    go(link.pathname + link.search);
  });
};
