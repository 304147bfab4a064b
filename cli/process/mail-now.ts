// The mail server that holds now: what a manager set before what the program was started with.

import type { ConnectionSettings } from '../../lab/database/connection-settings.ts';
import { type MailServer, mailServerOf } from '../../lab/database/mail-setting.ts';
import type { ProcessSettings } from '../settings/settings.ts';

export const mailNow =
  (
    { mail, mailFrom }: Pick<ProcessSettings, 'mail' | 'mailFrom'>,
    connections: Pick<ConnectionSettings, 'setting'>,
  ) =>
  (): MailServer | null => {
    const set = connections.setting().mail;
    if (set !== null) return mailServerOf(set);
    return mail === null ? null : { server: mail, from: mailFrom };
  };
