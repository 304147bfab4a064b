// The doors of the server as the screens use them. Every failure becomes a `Trouble` with words a person can act
// on; RFC 9457 problem details are passed through.

import type { ProblemValues } from '../../../wax/result.ts';
import { settings } from './settings.ts';

export interface Trouble {
  /** The HTTP status; 0 when the server could not be reached. */
  readonly status: number;
  /** What is wrong, in the reader's language; empty when the server could not be reached. */
  readonly detail: string;
  readonly code: string;
  readonly values?: ProblemValues;
  /** The fields that were refused, by JSON pointer. */
  readonly errors?: readonly FieldError[];
}

export interface FieldError {
  /** JSON pointer; the first part is where the field was: `/body/name`. */
  readonly pointer: string;
  readonly code: string;
  readonly values?: ProblemValues;
  /** What is wrong with the field, in the reader's language. */
  readonly detail: string;
}

export type Answer<T> =
  | { readonly ok: true; readonly value: T; readonly version?: number }
  | { readonly ok: false; readonly trouble: Trouble };

interface ProblemDetails {
  readonly title?: string;
  readonly detail?: string;
  readonly code?: string;
  readonly values?: ProblemValues;
  readonly errors?: readonly FieldError[];
}

/** Asks for texts in this reader's language, unit and clock. */
export const addReaderSettings = (path: string): string => {
  const { language, unit, hourCycle } = settings.value;
  const asked = new URLSearchParams({ lang: language, unit, hours: hourCycle });
  return `${path}${path.includes('?') ? '&' : '?'}${asked}`;
};
/** Doors whose answers are worded by the server. */
const isWorded = (path: string): boolean => /^\/api\/(alarms|patterns)\b/.test(path);

/** The numbers of the changes that this page has made: to change them anew, or back, overwrites nobody. */
const madeHere: number[] = [];

const call = async <T>(path: string, init: RequestInit): Promise<Answer<T>> => {
  try {
    const response = await fetch(isWorded(path) ? addReaderSettings(path) : path, {
      ...init,
      credentials: 'same-origin',
      headers: { accept: 'application/json', 'accept-language': settings.value.language, ...init.headers },
    });
    const text = await response.text();
    const body: unknown = text === '' ? null : JSON.parse(text);
    for (const change of response.headers.get('changes')?.split(', ') ?? []) madeHere.push(Number(change));
    if (response.ok) {
      const version = /^"(\d+)"$/.exec(response.headers.get('etag') ?? '')?.[1];
      return { ok: true, value: body as T, ...(version !== undefined && { version: Number(version) }) };
    }
    const problem = (body ?? {}) as ProblemDetails;
    return {
      ok: false,
      trouble: {
        status: response.status,
        detail: problem.detail ?? problem.title ?? response.statusText,
        code: problem.code ?? 'refused',
        ...(problem.values !== undefined && { values: problem.values }),
        ...(problem.errors !== undefined && { errors: problem.errors }),
      },
    };
  } catch {
    return { ok: false, trouble: { status: 0, detail: '', code: 'unreachable' } };
  }
};

export const read = <T>(path: string, signal?: AbortSignal): Promise<Answer<T>> =>
  call<T>(path, { method: 'GET', ...(signal === undefined ? {} : { signal }) });

const withBody =
  (method: 'POST' | 'PUT') =>
  <T>(path: string, body: object = {}, headers: Readonly<Record<string, string>> = {}): Promise<Answer<T>> =>
    call<T>(path, {
      method,
      body: JSON.stringify(body),
      headers: { 'content-type': 'application/json', ...headers },
    });

export const send = withBody('POST');
export const put = withBody('PUT');

/** Header of a change: refused where it would take back what was saved since, elsewhere than on this page. */
export const asRead = (version: number | null): Readonly<Record<string, string>> => {
  if (version === null) return {};
  const tags = [version, ...madeHere.filter((change) => change > version)].map((number) => `"${number}"`);
  return { 'if-match': tags.join(', ') };
};

export const sendRemoval = <T>(
  path: string,
  headers: Readonly<Record<string, string>> = {},
): Promise<Answer<T>> => call<T>(path, { method: 'DELETE', headers });
