// Copies a text, where the browser can, and shows that it did.

import { useState } from 'preact/hooks';
import { ActButton } from './act-button.tsx';
import { t } from './messages.ts';

export const CopyButton = ({ text }: { readonly text: string }) => {
  const [copied, setCopied] = useState(false);
  if (!('clipboard' in navigator)) return null;
  const copy = (): void =>
    void navigator.clipboard.writeText(text).then(
      () => setCopied(true),
      () => setCopied(false),
    );
  return <ActButton text={t(copied ? 'keys.copied' : 'keys.copy')} onClick={copy} />;
};
