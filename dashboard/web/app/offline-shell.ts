// The built page kept on the device, so that an installed phone opens without a network. Only files of the build are
// kept, never an answer of the lab; a page is always asked of the server first, so that a renewed program shows anew.

declare const self: ServiceWorkerGlobalScope;

interface Shell {
  /** Changes with any file. */
  readonly version: string;
  readonly files: readonly string[];
}
/** The build puts the list here. */
const SHELL = 'the-shell' as unknown as Shell;
const PREFIX = 'waxwarden-shell-';
const NAME = `${PREFIX}${SHELL.version}`;
const PAGE = '/';

/** A server that does not answer by then is as good as away: a phone at the edge of the Wi-Fi. Our choice. */
const PATIENCE_MILLIS = 6000;

/** All or nothing: half a page would not open. A full disk must not stand in the way of alarms. */
export const keepShell = async (): Promise<void> => {
  if (await caches.has(NAME)) return;
  const requests = SHELL.files.map((file) => new Request(file, { cache: 'reload', credentials: 'omit' }));
  await caches
    .open(NAME)
    .then((cache) => cache.addAll(requests))
    .catch(() => caches.delete(NAME));
};

export const dropOldShells = async (): Promise<void> => {
  for (const name of await caches.keys())
    if (name.startsWith(PREFIX) && name !== NAME) await caches.delete(name);
};

// The server varies its answers by compression alone, which the browser has undone by then.
const kept = (path: string): Promise<Response | undefined> =>
  caches.match(path, { cacheName: NAME, ignoreVary: true });

const inTime = (request: Request): Promise<Response | null> =>
  Promise.race([
    fetch(request).catch(() => null),
    new Promise<null>((resolve) => setTimeout(() => resolve(null), PATIENCE_MILLIS)),
  ]);

const page = async (request: Request): Promise<Response> => {
  const answer = await inTime(request);
  if (answer !== null && answer.status < 500) return answer;
  return (await kept(PAGE)) ?? answer ?? fetch(request);
};

/** Answers what is of the page; null leaves the request alone. */
export const answerFromShell = (request: Request): Promise<Response> | null => {
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return null;
  if (pathname.startsWith('/api') || pathname === '/metrics') return null;
  if (request.mode === 'navigate') return page(request);
  // Named by their content, so that what is kept can never be an older one.
  if (!SHELL.files.includes(pathname)) return null;
  return kept(pathname).then((one) => one ?? fetch(request));
};
