// The mail server that a manager sets while the program runs, and its address in the form that senders take.

export const MAIL_SECURITIES = ['tls', 'starttls', 'none'] as const;

export interface MailSetting {
  /** Name or address of the server, without port. */
  readonly host: string;
  readonly port: number;
  /** `tls` from the first byte, `starttls` or nothing, `none` for a server inside a protected network. */
  readonly security: (typeof MAIL_SECURITIES)[number];
  /** Empty: the server requires no login. */
  readonly user: string;
  readonly password: string;
  /** E-mail address of the sender. */
  readonly from: string;
}

export interface MailServer {
  /** `smtp://` or `smtps://`, with login where the server requires one. */
  readonly server: string;
  readonly from: string;
}

const QUERIES: Readonly<Record<MailSetting['security'], string>> = {
  tls: '',
  // Without it a server, or who sits before it, could have the password in clear.
  starttls: '?requireTLS=true',
  none: '?ignoreTLS=true',
};

/**
 * @example
 * mailServerOf({ host: 'mail.lab.example', port: 465, security: 'tls', user: '', password: '', from: 'a@lab.example' })
 * // { server: 'smtps://mail.lab.example:465', from: 'a@lab.example' }
 */
export const mailServerOf = ({ host, port, security, user, password, from }: MailSetting): MailServer => {
  const login = user === '' ? '' : `${encodeURIComponent(user)}:${encodeURIComponent(password)}@`;
  const scheme = security === 'tls' ? 'smtps' : 'smtp';
  return { server: `${scheme}://${login}${host}:${port}${QUERIES[security]}`, from };
};
