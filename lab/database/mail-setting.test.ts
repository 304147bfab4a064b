import nodemailer from 'nodemailer';
import { describe, expect, it } from 'vitest';
import { type MailSetting, mailServerOf } from './mail-setting.ts';

const SETTING: MailSetting = {
  host: 'mail.lab.example',
  port: 587,
  security: 'starttls',
  from: 'alarms@lab.example',
  user: 'wax:lab@lab.example',
  password: 'p@ss/word:%41',
};
/** What the sender makes of the address. */
const optionsOf = (setting: MailSetting): object => {
  const transport = nodemailer.createTransport({ url: mailServerOf(setting).server });
  transport.close();
  // Its types leave out what every transport of it holds.
  return (transport.transporter as unknown as { readonly options: object }).options;
};

describe('the address of a mail server that was set on the screen', () => {
  it('keeps every sign of user and password', () => {
    expect(optionsOf(SETTING)).toMatchObject({
      host: 'mail.lab.example',
      port: 587,
      secure: false,
      requireTLS: true,
      auth: { user: 'wax:lab@lab.example', pass: 'p@ss/word:%41' },
    });
  });

  it('uses TLS from the first byte where that is set, and has no login without a user', () => {
    const options = optionsOf({ ...SETTING, port: 465, security: 'tls', user: '' });
    expect(options).toMatchObject({ port: 465, secure: true });
    expect(options).not.toHaveProperty('auth');
  });

  it('uses no TLS where none is set', () => {
    expect(optionsOf({ ...SETTING, security: 'none' })).toMatchObject({ secure: false, ignoreTLS: true });
  });
});
