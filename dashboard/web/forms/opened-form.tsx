// A form keeps what was typed while somebody else saves. What it then sends is refused, and it offers to show what was
// saved instead, without a reload of the page. As long as nothing was typed it shows what is saved.

import { type ComponentChildren, createContext, Fragment } from 'preact';
import { useContext, useState } from 'preact/hooks';

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
  const [typedAt, setTypedAt] = useState<{ readonly version: Version } | null>(null);
  const { version } = typedAt ?? { version: newest };
  const keep = (): void => setTypedAt({ version });
  // Once the click on it, which lies in the form, has been counted as typing.
  const takeSaved = (): void => void setTimeout(() => setTypedAt(null));
  return (
    <TakeSaved.Provider value={newest === version ? null : takeSaved}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: it is only seen that something was typed. */}
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: a key that presses a button clicks it. */}
      <div onInput={keep} onClick={keep}>
        <Fragment key={String(version)}>{children({ version, takeSaved })}</Fragment>
      </div>
    </TakeSaved.Provider>
  );
};
