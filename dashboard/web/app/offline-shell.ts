// The built page, kept on the device so that an installed phone opens without a network. Only files of the build are
// kept, never an answer of the lab; a page is always requested from the server first, so that a renewed program shows anew.

import { PrecacheController, PrecacheRoute } from 'workbox-precaching';
import { NavigationRoute, registerRoute } from 'workbox-routing';
import { NetworkOnly } from 'workbox-strategies';

declare const self: ServiceWorkerGlobalScope & {
  /** The build writes the list here; the page itself is its last entry. */
  readonly __WB_MANIFEST: { readonly url: string; readonly revision: string | null }[];
};

const CACHE = 'waxwarden-shell';
const PAGE = '/';
/** Answered by the server alone, also when a person opens them. */
const NO_PAGES = [/^\/api(\/|$)/, /^\/metrics$/];

/** A server that does not answer by then is as good as away: a phone at the edge of the Wi-Fi. Our choice. */
const PATIENCE_SECONDS = 6;

const shell = new PrecacheController({ cacheName: CACHE });
shell.addToCacheList(self.__WB_MANIFEST);

/** Keeps what is not kept yet. The page comes last, so that it is never kept without all that it needs. */
export const keepShell = async (event: ExtendableEvent): Promise<void> => {
  if (await shell.matchPrecache(PAGE)) return;
  // As if the worker were being installed, but a full disk must not stand in the way of alarms.
  const installation: ExtendableEvent = Object.create(event, {
    type: { value: 'install' },
    waitUntil: { value: (work: Promise<unknown>) => event.waitUntil(work.catch(() => undefined)) },
  });
  await shell.install(installation).catch(() => undefined);
};

/** Drops the files of builds before, and whole caches from before there was only one. */
export const dropOldShells = async (event: ExtendableEvent): Promise<void> => {
  for (const name of await caches.keys()) if (name !== CACHE) await caches.delete(name);
  await shell.activate(event);
};

const pageFirstOfTheServer = new NetworkOnly({
  networkTimeoutSeconds: PATIENCE_SECONDS,
  plugins: [
    {
      fetchDidSucceed: async ({ response, event }) => {
        if (response.status >= 500) throw new Error(`The server answered ${response.status}.`);
        // The browser may have thrown the shell away, or the disk was full then.
        event.waitUntil(keepShell(event));
        return response;
      },
    },
    // With nothing kept, the server's answer, however late or bad it is.
    { handlerDidError: async ({ request }) => (await shell.matchPrecache(PAGE)) ?? fetch(request) },
  ],
});

registerRoute(new NavigationRoute(pageFirstOfTheServer, { denylist: NO_PAGES }));
// Files of the build are named by their content, so that a kept one can never be an older one.
registerRoute(new PrecacheRoute(shell));
