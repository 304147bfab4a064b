// A form keeps what was typed while somebody else saves. What it then sends is refused, and it offers to show what was
// saved instead, without a reload of the page. As long as nothing was typed it shows what is saved.

import { type ComponentChildren, createContext, Fragment } from 'preact';
import { useContext, useReducer, useRef } from 'preact/hooks';

export interface Opened<Version> {
  /** The newest change when something was first typed. */
  readonly version: Version;
  /** Shows what is saved now, and from then on what is saved later. */
  readonly takeSaved: () => void;
}

interface OpenedFormProps<Version> {
  /** The newest change that was read. */
  readonly newest: Version;
  readonly children: (opened: Opened<Version>) => ComponentChildren;
}

const TakeSaved = createContext<(() => void) | null>(null);

/** Within a form: shows what somebody else saved; null as long as nothing newer was read. */
export const useTakeSaved = (): (() => void) | null => useContext(TakeSaved);

export const OpenedForm = <Version extends number | null>({ newest, children }: OpenedFormProps<Version>) => {
  // Drawn anew while a tick or a choice is on its way to its own handler, it would be set back to what it was.
  const typedAt = useRef<{ readonly version: Version } | null>(null);
  const [, drawAnew] = useReducer((count: number) => count + 1, 0);
  const { version } = typedAt.current ?? { version: newest };
  const keep = (): void => {
    typedAt.current = { version };
  };
  const takeSaved = (): void => {
    typedAt.current = null;
    drawAnew(undefined);
  };
  return (
    <TakeSaved.Provider value={newest === version ? null : takeSaved}>
      <div onInputCapture={keep} onClickCapture={keep}>
        <Fragment key={String(version)}>{children({ version, takeSaved })}</Fragment>
      </div>
    </TakeSaved.Provider>
  );
};
