// Who is signed in on this device and what they may do; a screen hides what would be refused.

import { signal } from '@preact/signals';
import type { SessionView } from '../../api/people.ts';
import { forgetLastKnown, mayKeep } from './last-known.ts';
import { read } from '../base/api.ts';

export const session = signal<SessionView | null>(null);

export const loadSession = async (): Promise<void> => {
  const answer = await read<SessionView>('/api/session');
  session.value = answer.ok ? answer.value : null;
  if (!answer.ok) return;
  if (answer.value.signedIn) mayKeep.value = true;
  else forgetLastKnown();
};

/** While nothing is known yet everything is offered: the server checks anyway. */
export const mayDo = (permission: string): boolean =>
  session.value === null || session.value.permissions.includes(permission);
