// A part of a page whose script is loaded once its place is near what is in sight and the page has nothing else to do: what
// the page was opened for goes before it.

import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

/** Not every phone reports when it is idle. */
const LATER_MILLIS = 300;
const whenIdle = (work: () => void): void => {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(work);
  else setTimeout(work, LATER_MILLIS);
};

/** `part` is null until it is loaded, `absent` where that failed. Nothing is loaded before `isDue`. */
export const useWhenSeen = <Part extends object>(
  load: () => Promise<Part>,
  isDue = true,
): { readonly place: RefObject<HTMLDivElement | null>; readonly part: Part | 'absent' | null } => {
  const place = useRef<HTMLDivElement>(null);
  const [part, setPart] = useState<Part | 'absent' | null>(null);
  useEffect(() => {
    if (!isDue || place.current === null) return () => undefined;
    const observer = new IntersectionObserver((entries) => {
      if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
      observer.disconnect();
      whenIdle(() => {
        load().then(
          // Loading it is one piece of work and drawing another, so that a tap between them is answered.
          (loaded) => whenIdle(() => setPart(loaded)),
          () => setPart('absent'),
        );
      });
    });
    observer.observe(place.current);
    return () => observer.disconnect();
  }, [isDue]);
  return { place, part };
};
