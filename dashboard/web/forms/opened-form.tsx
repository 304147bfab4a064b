// A form keeps what was typed while somebody else saves. What it then sends is refused, and it offers to show what was
// saved instead, without a reload of the page.

import { type ComponentChildren, Fragment } from 'preact';
import { useState } from 'preact/hooks';

export interface Opened {
  /** The newest change when the form was opened. */
  readonly version: number | null;
  /** Opens the form anew with what is saved now; absent as long as nothing newer was read. */
  readonly takeSaved: (() => void) | undefined;
}

interface OpenedFormProps {
  /** The newest change that was read. */
  readonly newest: number | null;
  readonly children: (opened: Opened) => ComponentChildren;
}

export const OpenedForm = ({ newest, children }: OpenedFormProps) => {
  const [version, setVersion] = useState(newest);
  const takeSaved = newest === version ? undefined : () => setVersion(newest);
  return <Fragment key={String(version)}>{children({ version, takeSaved })}</Fragment>;
};
