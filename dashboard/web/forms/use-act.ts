// Doing one act from a screen: busy while it is sent, then kept, waiting on this device, or refused.

import { useState } from 'preact/hooks';
import type { FieldError, Trouble } from '../base/api.ts';
import { now } from '../live/lab-state.ts';
import { doAct } from '../live/act-queue.ts';
import { refusedField } from './refused-field.ts';

export const useAct = () => {
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const [isKept, setIsKept] = useState(false);
  /** The answer; null when it was refused or waits to be sent. */
  const act = async <T>(path: string, body: object | null, what: string): Promise<T | null> => {
    setBusy(true);
    setIsKept(false);
    const answer = await doAct<T>(path, body, what, now.peek());
    setBusy(false);
    setRefusal(answer.ok === false ? answer.trouble : null);
    setIsKept(answer.ok === true);
    return answer.ok === true ? answer.value : null;
  };
  const errorAt = (path: string): FieldError | null => refusedField(refusal, path);
  return { act, busy, refusal, isKept, errorAt };
};
