// Every setting with its name in the environment, its form, what holds without it, and what `--help` prints of it.

import { LANGUAGE_CODES } from '../../words/load-languages.ts';
import { HTTPS_ROWS } from './https-settings.ts';

interface SettingRow {
  readonly env: string;
  readonly shape: string;
  readonly fallback: string;
  readonly help: string;
}

export const SETTING_ROWS = {
  data: {
    env: 'WAXWARDEN_DATA',
    shape: 'DIR',
    fallback: 'data',
    help: 'folder for the journal and the database',
  },
  host: {
    env: 'WAXWARDEN_HOST',
    shape: 'ADDRESS',
    fallback: '127.0.0.1',
    help: 'address to serve on; loopback until you name another',
  },
  port: {
    env: 'WAXWARDEN_PORT',
    shape: 'N',
    fallback: '8460',
    help: 'port of the screens and the API; 0 takes a free one',
  },
  broker: {
    env: 'WAXWARDEN_BROKER',
    shape: 'embedded:PORT|embedded-tls:PORT|mqtt://...,...',
    fallback: 'embedded:1883',
    help: 'the MQTT broker: our own, over TLS with the certificate of HTTPS, or the address of yours (mqtt://, mqtts://); several with commas are tried in turn',
  },
  'broker-authority': {
    env: 'WAXWARDEN_BROKER_AUTHORITY',
    shape: 'FILE.pem',
    fallback: '',
    help: 'certificate of the authority that signed the certificate of your mqtts:// broker; without it, the authorities of the system',
  },
  store: {
    env: 'WAXWARDEN_STORE',
    shape: 'embedded|influx:URL',
    fallback: 'embedded',
    help: 'where readings are kept: SQLite in the data folder, or an InfluxDB server',
  },
  'journal-sync': {
    env: 'WAXWARDEN_JOURNAL_SYNC',
    shape: 'SECONDS',
    fallback: '0',
    help: 'how long an acknowledged message may wait to be forced to disk, 0 to 60 seconds; 0: it is on disk before it is acknowledged. More spares a memory card, but a power cut may lose the messages of that time',
  },
  copies: {
    env: 'WAXWARDEN_COPIES',
    shape: 'DIR',
    fallback: '',
    help: 'folder, preferably on another disk, for a daily copy of the data; the newest seven are kept',
  },
  lab: {
    env: 'WAXWARDEN_LAB',
    shape: 'FILE.yaml',
    fallback: '',
    help: 'lab file to load into an empty database',
  },
  'host-names': {
    env: 'WAXWARDEN_HOST_NAMES',
    shape: 'NAME,NAME',
    fallback: '',
    help: 'names by which a browser reaches it, where they are not the address: behind a proxy, or a name of your network',
  },
  mail: {
    env: 'WAXWARDEN_MAIL',
    shape: 'smtp://...',
    fallback: '',
    help: 'mail server for alarms by e-mail (smtp:// or smtps://, with user and password where it requires them)',
  },
  'mail-from': {
    env: 'WAXWARDEN_MAIL_FROM',
    shape: 'ADDRESS',
    fallback: '',
    help: 'sender of these e-mails; needed with --mail',
  },
  contact: {
    env: 'WAXWARDEN_CONTACT',
    shape: 'mailto:...|https://...',
    fallback: '',
    help: "contact for push services about this sender; without it a manager's e-mail address",
  },
  'push-hosts': {
    env: 'WAXWARDEN_PUSH_HOSTS',
    shape: 'HOST,...',
    fallback: '',
    help: 'hosts of push services beside those of the known browsers',
  },
  'webhook-hosts': {
    env: 'WAXWARDEN_WEBHOOK_HOSTS',
    shape: 'HOST,...',
    fallback: '',
    help: 'hosts that webhooks may reach although they are on this machine or a private network',
  },
  heartbeat: {
    env: 'WAXWARDEN_HEARTBEAT',
    shape: 'https://...',
    fallback: '',
    help: 'address that gets a heartbeat once a minute while all is well, so that its absence can raise an alarm there',
  },
  ...HTTPS_ROWS,
  'demo-language': {
    env: 'WAXWARDEN_DEMO_LANGUAGE',
    shape: LANGUAGE_CODES.join('|'),
    fallback: 'en',
    help: 'language of what the people of the demonstration named: stations, cases and wax; each screen has its own language',
  },
  log: { env: 'WAXWARDEN_LOG', shape: 'LEVEL', fallback: 'warn', help: 'silent, warn, info or debug' },
  'log-format': {
    env: 'WAXWARDEN_LOG_FORMAT',
    shape: 'FORMAT',
    fallback: 'text',
    help: 'text, one line an event, or json, one object an event',
  },
} as const satisfies Record<string, SettingRow>;

export type SettingName = keyof typeof SETTING_ROWS;
