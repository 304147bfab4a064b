// What a screen shows of the server: loaded when it opens, again when the lab changed, when its address or settings
// changed, at an interval or when the screen calls for it. An answer that arrives after a newer question or after the screen
// was left changes nothing.
//
//     const patterns = useLoaded<readonly PatternView[]>('/api/patterns');
//     <Refusal trouble={patterns.trouble} retry={patterns.reload} />
//     {patterns.value?.map(...)}

import { useEffect, useRef, useState } from 'preact/hooks';
import type { LabView } from '../../api/lab-bodies.ts';
import { type Answer, read, type Trouble } from '../base/api.ts';
import { labVersion } from './lab-state.ts';
import { type NewestAnswer, newestAnswer } from './newest-answer.ts';

export interface Loaded<T> {
  /** The last answer; null until there is one. It stays while a newer one is requested or fails. */
  readonly value: T | null;
  /** The newest change when it was read, to be sent with a change of it; null where it is no setting. */
  readonly version: number | null;
  /** Why the last question failed; null when it did not. */
  readonly trouble: Trouble | null;
  readonly busy: boolean;
  readonly reload: () => void;
  /** For a screen whose own act was answered with the new state: what is under way is dropped. */
  readonly setValue: (value: T) => void;
}

export interface LoadedOptions {
  /** Asks again whenever the lab changed; the default. */
  readonly followsLab?: boolean;
  /** Asks again at this interval while the page is visible. */
  readonly everyMillis?: number | null;
}

type Shown<T> = Pick<Loaded<T>, 'value' | 'version' | 'trouble' | 'busy'>;

const NOTHING = { value: null, version: null, trouble: null, busy: false } as const;

/** `key` names what is loaded: with a new one `ask` is called anew, with null nothing is requested and nothing shown. */
export const useLoadedBy = <T>(
  key: string | null,
  ask: (signal: AbortSignal) => Promise<Answer<T>>,
  { followsLab = true, everyMillis = null }: LoadedOptions = {},
): Loaded<T> => {
  const [shown, setShown] = useState<Shown<T>>({ ...NOTHING, busy: key !== null });
  const questions = useRef<NewestAnswer | null>(null);
  questions.current ??= newestAnswer();
  const { current: newest } = questions;
  const latest = useRef(ask);
  latest.current = ask;
  const reload = (): void => {
    if (key === null) return;
    setShown((before) => ({ ...before, busy: true }));
    void newest.ask(latest.current, (answer) =>
      setShown((before) =>
        answer.ok
          ? { value: answer.value, version: answer.version ?? null, trouble: null, busy: false }
          : { ...before, trouble: answer.trouble, busy: false },
      ),
    );
  };
  const version = followsLab ? labVersion.value : 0;
  useEffect(() => {
    if (key !== null) return reload();
    newest.drop();
    setShown(NOTHING);
  }, [key, version]);
  useEffect(() => {
    if (everyMillis === null || key === null) return;
    const timer = setInterval(() => {
      if (!document.hidden) reload();
    }, everyMillis);
    return () => clearInterval(timer);
  }, [key, everyMillis]);
  useEffect(() => newest.drop, []);
  const setValue = (value: T): void => {
    newest.drop();
    setShown(({ version }) => ({ value, version, trouble: null, busy: false }));
  };
  return { ...shown, reload, setValue };
};

export const useLoaded = <T>(path: string | null, options?: LoadedOptions): Loaded<T> =>
  useLoadedBy<T>(path, (signal) => read<T>(path ?? '', signal), options);

export const useLab = (): Loaded<LabView> => useLoaded<LabView>('/api/lab');

/** Everything that follows the lab is loaded again at once, without waiting for the live line. */
export const labChanged = (): void => {
  labVersion.value += 1;
};
