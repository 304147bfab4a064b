// The line to `/api/live`: one request that never ends, opened again with a growing, jittered wait, and with the
// id of the last event so that what was missed is sent. Two seconds without a beat is a dead line, whatever the
// socket says. Native EventSource cannot send an id on a new connection and keeps a dead one, hence fetch.

import { createParser } from 'eventsource-parser';

const BEAT_LIMIT_MILLIS = 2000;
const LONGEST_WAIT_MILLIS = 15_000;

export interface LineEvents {
  readonly onEvent: (name: string, data: unknown) => void;
  readonly onUp: () => void;
  readonly onDown: () => void;
}

/** Doubles from half a second to the longest wait; jitter is 0 to 1 and spreads screens that fell together. */
export const waitBeforeAttempt = (attempt: number, jitter: number): number =>
  Math.min(LONGEST_WAIT_MILLIS, 500 * 2 ** attempt) * (0.5 + jitter / 2);

export const openLine = (url: () => string, events: LineEvents): (() => void) => {
  let lastId = '';
  let attempt = 0;
  let heardAt = performance.now();
  let up = false;
  let isSaidDown = false;
  let stopped = false;
  let inFlight = false;
  let current = new AbortController();
  let waiting: ReturnType<typeof setTimeout> | undefined;

  const down = (): void => {
    if (!isSaidDown) events.onDown();
    isSaidDown = true;
    up = false;
  };
  const heard = (): void => {
    heardAt = performance.now();
    attempt = 0;
    if (!up) {
      up = true;
      isSaidDown = false;
      events.onUp();
    }
  };

  /** Whoever may not listen is answered too, and has a line. */
  let answered = false;
  const attend = async (controller: AbortController): Promise<void> => {
    const response = await fetch(url(), {
      signal: controller.signal,
      cache: 'no-store',
      credentials: 'same-origin',
      headers: { accept: 'text/event-stream', ...(lastId === '' ? {} : { 'last-event-id': lastId }) },
    });
    answered = true;
    if (!response.ok || response.body === null) throw new Error(`live line refused: ${response.status}`);
    const parser = createParser({
      onEvent: (message) => {
        if (message.id !== undefined) lastId = message.id;
        heard();
        events.onEvent(message.event ?? 'message', message.data === '' ? {} : JSON.parse(message.data));
      },
    });
    const text = new TextDecoder();
    const reader = response.body.getReader();
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      parser.feed(text.decode(value, { stream: true }));
    }
  };

  const connect = (): void => {
    if (stopped) return;
    current = new AbortController();
    heardAt = performance.now();
    inFlight = true;
    answered = false;
    attend(current)
      .catch(() => undefined)
      .finally(() => {
        inFlight = false;
        if (stopped) return;
        if (up || !answered) down();
        waiting = setTimeout(connect, waitBeforeAttempt(attempt, Math.random()));
        attempt += 1;
      });
  };

  const watchdog = setInterval(() => {
    if (performance.now() - heardAt <= BEAT_LIMIT_MILLIS) return;
    if (up) down();
    // A request that is still being answered gets more patience than a line that had been up.
    if (performance.now() - heardAt > BEAT_LIMIT_MILLIS * 3) current.abort();
  }, 200);

  const hurry = (): void => {
    if (up || stopped) return;
    attempt = 0;
    if (inFlight) {
      current.abort();
      return;
    }
    clearTimeout(waiting);
    connect();
  };
  addEventListener('online', hurry);
  document.addEventListener('visibilitychange', hurry);
  connect();

  return () => {
    stopped = true;
    clearInterval(watchdog);
    clearTimeout(waiting);
    removeEventListener('online', hurry);
    document.removeEventListener('visibilitychange', hurry);
    current.abort();
  };
};
