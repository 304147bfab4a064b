// The line to `/api/live`: one request that never ends, opened again with a growing, jittered wait, and with the
// id of the last event so that what was missed is sent. Two seconds without a beat is a dead line, whatever the
// socket says. Native EventSource cannot send an id on a new connection and keeps a dead one, hence fetch.

import { createParser, type EventSourceMessage } from 'eventsource-parser';

const BEAT_LIMIT_MILLIS = 2000;
const LONGEST_WAIT_MILLIS = 15_000;
const WATCH_MILLIS = 200;

export interface LineEvents {
  readonly onEvent: (name: string, data: unknown) => void;
  readonly onUp: () => void;
  readonly onDown: () => void;
}

/** Doubles from half a second to the longest wait; jitter is 0 to 1 and spreads screens that lost it together. */
export const waitBeforeAttempt = (attempt: number, jitter: number): number =>
  Math.min(LONGEST_WAIT_MILLIS, 500 * 2 ** attempt) * (0.5 + jitter / 2);

/** Reads events from the answer until it ends; `lastId` requests what was missed since. */
const readEvents = async (
  url: string,
  lastId: string,
  signal: AbortSignal,
  on: { readonly answer: () => void; readonly event: (message: EventSourceMessage) => void },
): Promise<void> => {
  const response = await fetch(url, {
    signal,
    cache: 'no-store',
    credentials: 'same-origin',
    headers: { accept: 'text/event-stream', ...(lastId === '' ? {} : { 'last-event-id': lastId }) },
  });
  on.answer();
  if (!response.ok || response.body === null) throw new Error(`live line refused: ${response.status}`);
  const parser = createParser({ onEvent: on.event });
  const text = new TextDecoder();
  const body = response.body.getReader();
  for (;;) {
    const { done, value } = await body.read();
    if (done) return;
    parser.feed(text.decode(value, { stream: true }));
  }
};

class LiveLine {
  readonly #url: () => string;
  readonly #events: LineEvents;
  #lastId = '';
  #attempt = 0;
  #lastEventAt = performance.now();
  #isUp = false;
  #isDownSaid = false;
  #isClosed = false;
  #isInFlight = false;
  /** Whoever may not listen is answered too, and has a line. */
  #isAnswered = false;
  #current = new AbortController();
  #waiting: ReturnType<typeof setTimeout> | undefined;
  readonly #watchdog = setInterval(() => this.#check(), WATCH_MILLIS);

  constructor(url: () => string, events: LineEvents) {
    this.#url = url;
    this.#events = events;
    addEventListener('online', this.#hurry);
    document.addEventListener('visibilitychange', this.#hurry);
    this.#connect();
  }

  readonly close = (): void => {
    this.#isClosed = true;
    clearInterval(this.#watchdog);
    clearTimeout(this.#waiting);
    removeEventListener('online', this.#hurry);
    document.removeEventListener('visibilitychange', this.#hurry);
    this.#current.abort();
  };

  #down(): void {
    if (!this.#isDownSaid) this.#events.onDown();
    this.#isDownSaid = true;
    this.#isUp = false;
  }

  #receive({ id, event = 'message', data }: EventSourceMessage): void {
    if (id !== undefined) this.#lastId = id;
    this.#lastEventAt = performance.now();
    this.#attempt = 0;
    if (!this.#isUp) {
      this.#isUp = true;
      this.#isDownSaid = false;
      this.#events.onUp();
    }
    this.#events.onEvent(event, data === '' ? {} : JSON.parse(data));
  }

  #connect(): void {
    if (this.#isClosed) return;
    this.#current = new AbortController();
    this.#lastEventAt = performance.now();
    this.#isInFlight = true;
    this.#isAnswered = false;
    readEvents(this.#url(), this.#lastId, this.#current.signal, {
      answer: () => {
        this.#isAnswered = true;
      },
      event: (message) => this.#receive(message),
    })
      .catch(() => undefined)
      .finally(() => this.#connectLater());
  }

  #connectLater(): void {
    this.#isInFlight = false;
    if (this.#isClosed) return;
    if (this.#isUp || !this.#isAnswered) this.#down();
    this.#waiting = setTimeout(() => this.#connect(), waitBeforeAttempt(this.#attempt, Math.random()));
    this.#attempt += 1;
  }

  #check(): void {
    const silentMillis = performance.now() - this.#lastEventAt;
    if (silentMillis <= BEAT_LIMIT_MILLIS) return;
    if (this.#isUp) this.#down();
    // A request that is still being answered gets more patience than a line that had been up.
    if (silentMillis > BEAT_LIMIT_MILLIS * 3) this.#current.abort();
  }

  /** The network or the reader is back: do not wait out the pause. */
  readonly #hurry = (): void => {
    if (this.#isUp || this.#isClosed) return;
    this.#attempt = 0;
    if (this.#isInFlight) {
      this.#current.abort();
      return;
    }
    clearTimeout(this.#waiting);
    this.#connect();
  };
}

/** Opens the line and keeps it open; the answer closes it. `url` is called anew for each attempt. */
export const openLine = (url: () => string, events: LineEvents): (() => void) =>
  new LiveLine(url, events).close;
