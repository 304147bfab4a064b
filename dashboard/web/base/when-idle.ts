// What can wait until the page has nothing else to do.

/** Not every phone reports when it is idle. */
const LATER_MILLIS = 300;

export const whenIdle = (work: () => void): void => {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work);
  else setTimeout(work, LATER_MILLIS);
};
