// What can be set, on the command line or in the environment, and nothing else. A wrong setting is refused with
// its name; the process then ends with status 2.

import { parseArgs } from 'node:util';
import type { ExternalBroker } from '../../collector/intake/intake.ts';
import type { StoreSetting } from '../../collector/store/open-store.ts';
import { commaSeparated, type HttpsSettings, httpsSettings } from './https-settings.ts';
import { SETTING_ROWS, type SettingName } from './setting-rows.ts';
import { LOG_FORMATS, LOG_LEVELS, type LogFormat, type LogLevel } from '../console/log.ts';
import { LANGUAGE_CODES, sayTo } from '../../words/load-languages.ts';
import { PLAIN_ENGLISH } from '../../words/quantity.ts';
import { whatIsWrong } from '../../words/problem-text.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import { failure, type Problem, type Result, success } from '../../wax/result.ts';

export type BrokerSetting =
  | { readonly kind: 'embedded'; readonly port: number; readonly tls?: true }
  | ExternalBroker;

export interface ProcessSettings extends HttpsSettings {
  readonly demo: boolean;
  /** Code of the language in which its stations, cases and wax are named. */
  readonly demoLanguage: string;
  readonly data: string;
  /** Whether a folder was named, on the command line or in the environment. */
  readonly dataIsGiven: boolean;
  readonly host: string;
  readonly port: number;
  readonly broker: BrokerSetting;
  readonly store: StoreSetting;
  /** How long until acknowledged messages are forced to disk; 0: before they are acknowledged. */
  readonly journalSyncSeconds: number;
  /** Folder for a copy of the data each day; null: none is made. */
  readonly copies: string | null;
  readonly lab: string | null;
  /** Names under which the server is reached, without port. */
  readonly hostNames: readonly string[];
  /** For a manager whose password is lost: print a code for a new one. */
  readonly newManagerCode: boolean;
  /** `smtp://` or `smtps://`; null: nothing is sent by e-mail. */
  readonly mail: string | null;
  readonly mailFrom: string;
  /** Whom a push service can ask, `mailto:` or `https:`; null takes a manager's e-mail address. */
  readonly contact: string | null;
  /** Hosts of push services, with port, beside the known ones. */
  readonly pushHosts: readonly string[];
  /** Hosts, with or without port, that webhooks may reach although they lie on this machine or its network. */
  readonly webhookHosts: readonly string[];
  /** Where a sign of life goes once a minute; null: over MQTT alone. */
  readonly heartbeat: string | null;
  readonly logLevel: LogLevel;
  readonly logFormat: LogFormat;
}

/** `expected` is the form that the value should have, as a choice of the text of `wrong-setting`. */
const refuseValue = (name: SettingName, expected: string, value: string): Result<never> =>
  failure('wrong-setting', { name, env: SETTING_ROWS[name].env, expected, value }, value);

function portOf(name: SettingName, text: string): Result<number> {
  const port = Number(text);
  return /^\d{1,5}$/.test(text) && port <= 65_535 ? success(port) : refuseValue(name, 'port', text);
}

function brokerOf(text: string, authority: string): Result<BrokerSetting> {
  const embedded = /^embedded(-tls)?(?::(.*))?$/.exec(text);
  if (embedded) {
    if (authority !== '') return refuseValue('broker-authority', 'own_broker', authority);
    const [, tls, number] = embedded;
    const port = portOf('broker', number ?? (tls === undefined ? '1883' : '8883'));
    if (!port.ok) return port;
    return success({ kind: 'embedded', port: port.value, ...(tls !== undefined && { tls: true }) });
  }
  const [url = '', ...otherUrls] = text.split(',').map((each) => each.trim());
  if (![url, ...otherUrls].every((each) => /^(mqtt|mqtts|ws|wss):\/\/.+/.test(each) && URL.canParse(each)))
    return refuseValue('broker', 'broker', text);
  // One client signs in everywhere in the same way.
  if (otherUrls.some((each) => hasLogin(each) && loginIn(each) !== loginIn(url)))
    return refuseValue('broker', 'broker_login', '');
  if (authority !== '' && ![url, ...otherUrls].some((each) => /^(mqtts|wss):/.test(each)))
    return refuseValue('broker-authority', 'tls_broker', authority);
  return success({
    kind: 'external',
    url,
    ...(otherUrls.length > 0 && { otherUrls }),
    ...(authority !== '' && { authority }),
  });
}

const loginIn = (url: string): string => {
  const { username, password } = new URL(url);
  return `${username}:${password}`;
};
const hasLogin = (url: string): boolean => loginIn(url) !== ':';

function storeOf(text: string): Result<StoreSetting> {
  if (text === 'embedded') return success({ kind: 'embedded' });
  const url = text.startsWith('influx:') ? text.slice('influx:'.length) : '';
  if (/^https?:\/\/.+/.test(url) && URL.canParse(url)) return success({ kind: 'influx', url });
  return refuseValue('store', 'store', text);
}

const MOST_SYNC_SECONDS = 60;

function journalSyncOf(text: string): Result<number> {
  const seconds = Number(text);
  return /^\d{1,2}$/.test(text) && seconds <= MOST_SYNC_SECONDS
    ? success(seconds)
    : refuseValue('journal-sync', 'sync_seconds', text);
}

function hostNamesOf(text: string): Result<readonly string[]> {
  const names = commaSeparated(text);
  const bad = names.find((name) => !/^[A-Za-z0-9.-]+$/.test(name));
  return bad === undefined ? success(names) : refuseValue('host-names', 'host_name', bad);
}

function hostsOf(name: 'push-hosts' | 'webhook-hosts', text: string): Result<readonly string[]> {
  const hosts = commaSeparated(text);
  const strange = hosts.find((host) => !/^([a-z0-9.-]+|\[[0-9a-f:.]+\])(:\d{1,5})?$/.test(host));
  return strange === undefined ? success(hosts) : refuseValue(name, 'push_host', strange);
}

function noticesOf(
  text: (name: SettingName) => string,
): Result<Pick<ProcessSettings, 'mail' | 'mailFrom' | 'contact' | 'pushHosts' | 'webhookHosts'>> {
  const [mail, mailFrom, contact] = [text('mail'), text('mail-from'), text('contact')];
  if (mail !== '' && !(/^smtps?:\/\/.+/.test(mail) && URL.canParse(mail)))
    // The address may hold a password.
    return refuseValue('mail', 'mail_server', '');
  if (mail !== '' && !/^[^@\s]+@[^@\s]+$/.test(mailFrom)) return refuseValue('mail-from', 'sender', mailFrom);
  if (contact !== '' && !/^(mailto:[^@\s]+@[^@\s]+|https:\/\/\S+)$/.test(contact))
    return refuseValue('contact', 'contact', contact);
  const pushHosts = hostsOf('push-hosts', text('push-hosts'));
  if (!pushHosts.ok) return pushHosts;
  const webhookHosts = hostsOf('webhook-hosts', text('webhook-hosts'));
  if (!webhookHosts.ok) return webhookHosts;
  return success({
    mail: mail === '' ? null : mail,
    mailFrom,
    contact: contact === '' ? null : contact,
    pushHosts: pushHosts.value,
    webhookHosts: webhookHosts.value,
  });
}

/** Command line before environment before fallback. */
export function readSettings(
  args: readonly string[],
  environment: Readonly<Record<string, string | undefined>>,
): Result<ProcessSettings> {
  const names = Object.keys(SETTING_ROWS) as SettingName[];
  let given: Readonly<Record<string, string | boolean | undefined>>;
  try {
    given = parseArgs({
      args: [...args],
      options: {
        demo: { type: 'boolean' },
        'new-manager-code': { type: 'boolean' },
        ...Object.fromEntries(
          // A setting without a shape is a switch.
          names.map((name) => [
            name,
            { type: SETTING_ROWS[name].shape === '' ? ('boolean' as const) : ('string' as const) },
          ]),
        ),
      },
      strict: true,
    }).values;
  } catch (error) {
    return failure('unknown-setting', {
      reason: reasonOf(error).split('. ')[0] ?? '',
      names: names.map((name) => `--${name}`).join(', '),
    });
  }
  const text = (name: SettingName): string => {
    const value = given[name];
    return value !== undefined
      ? String(value)
      : (environment[SETTING_ROWS[name].env] ?? SETTING_ROWS[name].fallback);
  };
  const demo = given.demo === true || environment.WAXWARDEN_DEMO === 'true';
  const port = portOf('port', text('port'));
  if (!port.ok) return port;
  const broker = brokerOf(text('broker'), text('broker-authority'));
  if (!broker.ok) return broker;
  const store = storeOf(text('store'));
  if (!store.ok) return store;
  const journalSync = journalSyncOf(text('journal-sync'));
  if (!journalSync.ok) return journalSync;
  const notices = noticesOf(text);
  if (!notices.ok) return notices;
  const logLevel = LOG_LEVELS.find((level) => level === text('log'));
  if (!logLevel) return refuseValue('log', 'log_level', text('log'));
  const logFormat = LOG_FORMATS.find((format) => format === text('log-format'));
  if (!logFormat) return refuseValue('log-format', 'log_format', text('log-format'));
  const heartbeat = text('heartbeat');
  if (heartbeat !== '' && !(/^https?:\/\/.+/.test(heartbeat) && URL.canParse(heartbeat)))
    return refuseValue('heartbeat', 'web_address', heartbeat);
  if (text('data') === '') return refuseValue('data', 'folder', '');
  if (text('host') === '') return refuseValue('host', 'address', '');
  const hostNames = hostNamesOf(text('host-names'));
  if (!hostNames.ok) return hostNames;
  const https = httpsSettings(text, (port) => portOf('http-port', port), refuseValue);
  if (!https.ok) return https;
  if (broker.value.kind === 'embedded' && broker.value.tls && https.value.https === null)
    return refuseValue('broker', 'broker_certificate', text('broker'));
  if (demo && broker.value.kind === 'embedded' && broker.value.tls)
    return refuseValue('broker', 'broker_demo', text('broker'));
  if (demo && broker.value.kind === 'external' && broker.value.authority !== undefined)
    return refuseValue('broker-authority', 'authority_demo', broker.value.authority);
  const demoLanguage = text('demo-language');
  if (!LANGUAGE_CODES.includes(demoLanguage)) return refuseValue('demo-language', 'language', demoLanguage);
  if (!demo && demoLanguage !== SETTING_ROWS['demo-language'].fallback)
    return refuseValue('demo-language', 'demo_alone', demoLanguage);
  return success({
    demo,
    demoLanguage,
    data: text('data'),
    dataIsGiven: given.data !== undefined || environment[SETTING_ROWS.data.env] !== undefined,
    host: text('host'),
    port: port.value,
    broker: broker.value,
    store: store.value,
    journalSyncSeconds: journalSync.value,
    copies: text('copies') === '' ? null : text('copies'),
    lab: text('lab') === '' ? null : text('lab'),
    hostNames: hostNames.value,
    newManagerCode: given['new-manager-code'] === true || environment.WAXWARDEN_NEW_MANAGER_CODE === 'true',
    ...notices.value,
    ...https.value,
    heartbeat: heartbeat === '' ? null : heartbeat,
    logLevel,
    logFormat,
  });
}

/** The console is in English. */
const ENGLISH = sayTo(PLAIN_ENGLISH, 'UTC');

/** The one line that a refused start prints. */
export const refusal = (problem: Problem): string => `waxwarden: ${whatIsWrong(ENGLISH, problem)}`;
