// What a person did while the lab did not answer: kept in this browser, sent later in the order in which it was
// done, each under a key of its own so that an answer that was lost on the way never doubles it.

import { effect, signal, untracked } from '@preact/signals';
import { type Answer, sendRemoval, send, type Trouble } from '../base/api.ts';
import { line } from './lab-state.ts';

export interface WaitingAct {
  readonly key: string;
  readonly path: string;
  /** null takes back what is at the path. */
  readonly body: object | null;
  /** In the reader's words at the time. */
  readonly what: string;
  readonly at: number;
  /** The server refused it; it waits for a person to withdraw it. */
  readonly refusal?: Trouble;
}

/** `waiting`: it is kept here and will be sent. */
export type ActAnswer<T> = Answer<T> | { readonly ok: 'waiting' };

const STORE = 'waxwarden.waiting-acts';
const AGAIN_MILLIS = 10_000;

const readStored = (): readonly WaitingAct[] => {
  try {
    const acts: unknown = JSON.parse(localStorage.getItem(STORE) ?? '[]');
    return Array.isArray(acts) ? (acts as readonly WaitingAct[]) : [];
  } catch {
    return [];
  }
};

export const waitingActs = signal<readonly WaitingAct[]>(readStored());

const keep = (change: (acts: readonly WaitingAct[]) => readonly WaitingAct[]): void => {
  // Another tab may have added one meanwhile.
  waitingActs.value = change(readStored());
  localStorage.setItem(STORE, JSON.stringify(waitingActs.value));
};

/** Not `randomUUID`: a phone in the lab's network may open the page without a certificate. */
const newKey = (): string =>
  [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('');

/** No answer, a server in trouble, nobody signed in, too many at once, or still being done: try again later. */
const isForLater = ({ status, code }: Trouble): boolean =>
  status === 0 || status >= 500 || status === 401 || status === 429 || code === 'act-running';

const deliver = async <T>(act: WaitingAct): Promise<Answer<T>> => {
  const { path, body, key } = act;
  const answer = await (body === null
    ? sendRemoval<T>(path)
    : send<T>(path, body, { 'idempotency-key': key }));
  if (answer.ok || !isForLater(answer.trouble)) keep((acts) => acts.filter((waiting) => waiting.key !== key));
  return answer;
};

let sending = false;

const sendWaiting = async (): Promise<void> => {
  if (sending) return;
  sending = true;
  try {
    for (;;) {
      const next = waitingActs.value.find(({ refusal }) => refusal === undefined);
      if (next === undefined) return;
      const answer = await deliver(next);
      if (answer.ok) continue;
      if (isForLater(answer.trouble)) return;
      keep((acts) => [...acts, { ...next, refusal: answer.trouble }]);
    }
  } finally {
    sending = false;
  }
};

/** Does the act now, or keeps it for later when the lab does not answer or others wait before it. */
export const doAct = async <T>(
  path: string,
  body: WaitingAct['body'],
  what: string,
  at: number,
): Promise<ActAnswer<T>> => {
  const act: WaitingAct = { key: newKey(), path, body, what, at };
  const waitsBehind = waitingActs.value.some(({ refusal }) => refusal === undefined);
  keep((acts) => [...acts, act]);
  if (waitsBehind || sending) {
    void sendWaiting();
    return { ok: 'waiting' };
  }
  sending = true;
  try {
    const answer = await deliver<T>(act);
    return answer.ok || !isForLater(answer.trouble) ? answer : { ok: 'waiting' };
  } finally {
    sending = false;
  }
};

export const withdraw = (key: string): void => keep((acts) => acts.filter((act) => act.key !== key));

// Whenever the network or the lab comes back, and now and then.
addEventListener('online', () => void sendWaiting());
addEventListener('storage', () => {
  waitingActs.value = readStored();
});
setInterval(() => void sendWaiting(), AGAIN_MILLIS);
effect(() => {
  // Only the line is to set it off, not each act that is kept.
  if (line.value === 'up') untracked(() => void sendWaiting());
});
