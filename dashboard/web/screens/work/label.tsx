// The label of a pattern or a place: its code opens its page with the phone's own camera. Only print shows it. On a page
// that was opened at this computer itself the code carries the lab's own address, or a note that no other device can open it.

import { renderSVG } from 'uqr';
import { isLoopback } from '../../../loopback.ts';
import { t } from '../../base/messages.ts';
import { health } from '../../live/lab-state.ts';

interface LabelProps {
  readonly path: string;
  readonly title: string;
  readonly lines: readonly string[];
}

const isOpenedHere = (): boolean => isLoopback(location.hostname.replace(/^\[(.*)\]$/, '$1'));
const originForPhones = (): string => (isOpenedHere() ? health.value?.reachedAt : null) ?? location.origin;

export const PrintLabel = () => (
  <>
    <p>
      <button type="button" class="act" onClick={() => print()}>
        {t('work.label')}
      </button>
    </p>
    {isOpenedHere() &&
      (health.value?.reachedAt == null ? (
        <p role="note">{t('work.label-opens-here', { address: location.host })}</p>
      ) : (
        <p class="dim">{t('work.label-opens-at', { address: originForPhones() })}</p>
      ))}
  </>
);

export const Label = ({ path, title, lines }: LabelProps) => (
  <aside class="label" aria-hidden="true">
    {/* The encoder's own output of an address of ours; nothing that a person typed is in it. */}
    <span
      class="label-code"
      dangerouslySetInnerHTML={{ __html: renderSVG(originForPhones() + path, { ecc: 'M', border: 2 }) }}
    />
    <span class="label-words">
      <strong>{title}</strong>
      {lines.map((line) => (
        <span key={line}>{line}</span>
      ))}
    </span>
  </aside>
);
