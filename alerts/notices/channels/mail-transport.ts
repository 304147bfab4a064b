// The connection to the lab's mail server, which a manager may change while letters are on their way.

import nodemailer, { type Transporter } from 'nodemailer';
import type { MailServer } from '../../../lab/database/mail-setting.ts';

export interface MailTransport {
  /** To the server that is set now, with its sender; null while none is set. */
  readonly current: () => { readonly transport: Transporter; readonly from: string } | null;
  readonly close: () => void;
}

export const mailTransport = (mail: () => MailServer | null, timeoutMillis: number): MailTransport => {
  let open: { readonly server: string; readonly transport: Transporter } | null = null;
  const close = (): void => {
    open?.transport.close();
    open = null;
  };
  return {
    current: () => {
      const now = mail();
      if (open !== null && open.server !== now?.server) close();
      if (now === null) return null;
      open ??= {
        server: now.server,
        transport: nodemailer.createTransport({
          url: now.server,
          connectionTimeout: timeoutMillis,
          greetingTimeout: timeoutMillis,
          socketTimeout: timeoutMillis,
        }),
      };
      return { transport: open.transport, from: now.from };
    },
    close,
  };
};

/** Domain of the sender, for the ids of letters. */
export const mailDomain = (from: string): string =>
  from.split('@')[1]?.replace(/[^A-Za-z0-9.-]/g, '') || 'waxwarden.invalid';
