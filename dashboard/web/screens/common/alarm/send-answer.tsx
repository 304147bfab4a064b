// What a receiver answered about a message. What a mail server or the network answered in words of its own is shown as it
// came.

import type { SendAnswer as Answer } from '../../../../../alerts/notices/outbox/send-answer.ts';
import { t } from '../../../base/messages.ts';

export const SendAnswer = ({ answer: { code, values } }: { readonly answer: Answer }) =>
  code === 'own-words' ? (
    <span lang="en" class="outbox-own-words">
      {values.text}
    </span>
  ) : (
    <span>{t(`send-answer.${code}`, values)}</span>
  );
