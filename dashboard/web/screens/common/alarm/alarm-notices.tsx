// Who was notified of an alarm, when, over which channel and with what outcome. Loaded when it is opened.

import { useEffect, useState } from 'preact/hooks';
import type { Static } from 'typebox';
import type { OutboxView } from '../../../../api/outbox.ts';
import { loadWords, t, word } from '../../../base/messages.ts';
import { TroubleNote } from '../../../live/trouble-note.tsx';
import { useLoaded } from '../../../live/use-loaded.ts';
import { SendAnswer } from './send-answer.tsx';
import { instantText } from '../../../live/instant-text.ts';

const MOST = 200;

export const AlarmNotices = ({ alarm }: { readonly alarm: string }) => {
  const [isOpen, setOpen] = useState(false);
  useEffect(() => {
    // The words of the delivery log are loaded where they are needed.
    if (isOpen) void loadWords(['set-up']);
  }, [isOpen]);
  const path = `/api/outbox?limit=${MOST}&alarm=${encodeURIComponent(alarm)}`;
  const outbox = useLoaded<Static<typeof OutboxView>>(isOpen ? path : null);
  const rows = [...(outbox.value?.rows ?? [])].reverse();
  return (
    <details class="alarm-history" onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>{t('alarm.notices')}</summary>
      {outbox.trouble && <TroubleNote trouble={outbox.trouble} />}
      {outbox.value && rows.length === 0 && <p class="dim">{t('alarm.notices-none')}</p>}
      <ol>
        {rows.map((row) => (
          <li key={row.number}>
            <time dateTime={row.at}>{instantText(row.at)}</time> {row.to} ·{' '}
            {word('outbox-channel', row.channel)} · {word('outbox-kind', row.kind)} ·{' '}
            {word('outbox-state', row.state)}
            {row.answer !== null && (
              <>
                {' · '}
                <SendAnswer answer={row.answer} />
              </>
            )}
          </li>
        ))}
      </ol>
    </details>
  );
};
