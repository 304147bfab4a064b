// The doors of the server as the screens use them. Every failure becomes a `Trouble` with words a person can act
// on; RFC 9457 problem details are passed through.

import { settings } from './settings.ts';

export interface Trouble {
  readonly status: number;
  /** The server's own words; empty when it could not be reached. */
  readonly detail: string;
  readonly code: string;
}

export type Answer<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly trouble: Trouble };

interface ProblemDetails {
  readonly title?: string;
  readonly detail?: string;
  readonly code?: string;
}

const call = async <T>(path: string, init: RequestInit): Promise<Answer<T>> => {
  try {
    const response = await fetch(path, {
      ...init,
      credentials: 'same-origin',
      headers: { accept: 'application/json', 'accept-language': settings.value.language, ...init.headers },
    });
    const text = await response.text();
    const body: unknown = text === '' ? null : JSON.parse(text);
    if (response.ok) return { ok: true, value: body as T };
    const problem = (body ?? {}) as ProblemDetails;
    return {
      ok: false,
      trouble: {
        status: response.status,
        detail: problem.detail ?? problem.title ?? response.statusText,
        code: problem.code ?? 'refused',
      },
    };
  } catch {
    return { ok: false, trouble: { status: 0, detail: '', code: 'unreachable' } };
  }
};

export const read = <T>(path: string): Promise<Answer<T>> => call<T>(path, { method: 'GET' });

export const send = <T>(path: string, body: object = {}): Promise<Answer<T>> =>
  call<T>(path, {
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
  });

export const leave = <T>(path: string): Promise<Answer<T>> => call<T>(path, { method: 'DELETE' });
