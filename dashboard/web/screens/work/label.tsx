// The label of a pattern or a place: its code opens its page with the phone's own camera. Only print shows it. On a page
// that was opened at this computer itself the code carries the lab's own address, or a note that no other device can open it.

import { useEffect, useState } from 'preact/hooks';
import { ActButton } from '../../base/act-button.tsx';
import { t } from '../../base/messages.ts';
import { originForOthers, reachOfAddress } from '../../live/address-for-others.ts';

interface LabelProps {
  readonly path: string;
  readonly title: string;
  readonly lines: readonly string[];
}

export const PrintLabel = () => (
  <>
    <p>
      <ActButton text={t('work.label')} onClick={() => print()} />
    </p>
    {reachOfAddress() === 'here' && (
      <p role="note">{t('work.label-opens-here', { address: location.host })}</p>
    )}
    {reachOfAddress() === 'named' && (
      <p class="dim">{t('work.label-opens-at', { address: originForOthers() })}</p>
    )}
  </>
);

type Encoder = typeof import('uqr');

/** What draws the code is loaded once the page stands: nobody sees the code before it is printed. */
const useEncoder = (): Encoder | null => {
  const [encoder, setEncoder] = useState<Encoder | null>(null);
  useEffect(() => void import('uqr').then(setEncoder, () => undefined), []);
  return encoder;
};

export const Label = ({ path, title, lines }: LabelProps) => {
  const encoder = useEncoder();
  return (
    <aside class="label" aria-hidden="true">
      {/* The encoder's own output of an address of ours; nothing that a person typed is in it. */}
      {encoder !== null && (
        <span
          class="label-code"
          dangerouslySetInnerHTML={{
            __html: encoder.renderSVG(originForOthers() + path, { ecc: 'M', border: 2 }),
          }}
        />
      )}
      <span class="label-words">
        <strong>{title}</strong>
        {lines.map((line) => (
          <span key={line}>{line}</span>
        ))}
      </span>
    </aside>
  );
};
