// A form keeps what was typed while somebody else saves. What it then sends is refused, and it offers to show what was
// saved instead, without a reload of the page. Until somebody enters it, it shows what is saved.

import { type ComponentChildren, createContext, Fragment } from 'preact';
import { useContext, useReducer, useRef } from 'preact/hooks';

export interface Opened<Version> {
  /** The newest change when somebody entered it. */
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
  // Drawn anew while a tick or a choice is on its way to its own handler, it would be set back to what it was; and a field
  // that was reached by keyboard would be gone before the first letter.
  const enteredAt = useRef<{ readonly version: Version } | null>(null);
  const [, drawAnew] = useReducer((count: number) => count + 1, 0);
  const { version } = enteredAt.current ?? { version: newest };
  const keep = (): void => {
    enteredAt.current = { version };
  };
  const takeSaved = (): void => {
    enteredAt.current = null;
    drawAnew(undefined);
  };
  return (
    <TakeSaved.Provider value={newest === version ? null : takeSaved}>
      <div onInputCapture={keep} onClickCapture={keep} onFocusCapture={keep}>
        <Fragment key={String(version)}>{children({ version, takeSaved })}</Fragment>
      </div>
    </TakeSaved.Provider>
  );
};
