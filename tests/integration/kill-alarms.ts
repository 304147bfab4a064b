// What pots that get far too hot must bring about although the process is killed again and again: an alarm each, and a
// notice of it by webhook, e-mail and push. The receivers of all three stand outside the process that is killed.

import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { SMTPServer } from 'smtp-server';
import { pushTopic } from '../../alerts/notices/channels/push.ts';
import type { AlarmView } from '../../dashboard/api/schemas.ts';
import { openDatabase } from '../../lab/database/database.ts';
import { startPushService } from '../push-service.ts';
import { joinAsFirst, type LabProcess } from './lab-process.ts';
import { until } from './until.ts';

/** What is not there by then is counted as missing. */
const PATIENCE_MILLIS = 300_000;

/** Not that of the other readings: their instants lie months back, and a clock is measured for each gateway. */
const GATEWAY = 'gw-hot';
export const HEAT_TOPIC = `wax/my-lab/${GATEWAY}/senml`;
export const hotPot = (kill: number): string => `hot-${kill}`;

/** Two readings that are hot enough for vapour to ignite; one alone raises no alarm. */
export const heatPack = (pot: string): string => {
  const now = Date.now() / 1000;
  return JSON.stringify([now - 1, now].map((t) => ({ n: pot, u: 'Cel', v: 300, t })));
};

export interface AlarmsAfterKills {
  /** Pots that were hot and have no alarm of fire risk. */
  readonly withoutAlarm: readonly string[];
  /** Pots that have more than one. */
  readonly doubled: readonly string[];
  readonly withoutWebhook: readonly string[];
  readonly withoutMail: readonly string[];
  readonly withoutPush: readonly string[];
  /** Letters whose Message-ID is that of no notice: one notice must not go out under two. */
  readonly strangeLetters: number;
  /** Pushes that do not bear the topic of their tag. */
  readonly strangePushes: number;
}

const labFile = (pots: readonly string[], webhook: string): string =>
  [
    'site: { id: my-lab, name: Killed, time_zone: Europe/Berlin, working_hours: {} }',
    'people:',
    '  - { id: tom, name: Tom, role: technician, email: tom@lab.example, mail: always }',
    'notification_plan:',
    `  webhooks: [{ id: chat, name: Chat, url: "${webhook}" }]`,
    'stations:',
    ...pots.map((id) => `  - { id: ${id}, name: ${id}, kind: melt-pot, wax: inlay-type-2 }`),
    'probes:',
    ...pots.map((id) => `  - { id: ${id}, gateway: ${GATEWAY}, station: ${id} }`),
    '',
  ].join('\n');

interface Post {
  readonly kind: string;
  readonly rule: string | null;
  readonly subject: string | null;
}

const startReceivers = async () => {
  const posts: Post[] = [];
  const letters: string[] = [];
  const hook = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk) => (body += chunk));
    request.on('end', () => {
      posts.push(JSON.parse(body) as Post);
      response.end();
    });
  });
  hook.listen(0, '127.0.0.1');
  await once(hook, 'listening');
  const mail = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData: (stream, _session, done) => {
      let text = '';
      stream.on('data', (chunk) => (text += chunk));
      stream.on('end', () => {
        // Without the line breaks that the transfer encoding puts into words.
        letters.push(text.replace(/=\r?\n/g, ''));
        done();
      });
    },
  });
  // A process that is killed leaves its connection.
  mail.on('error', () => {});
  const mailListens = mail.listen(0, '127.0.0.1');
  await once(mailListens, 'listening');
  const push = await startPushService();
  return {
    posts,
    letters,
    push,
    webhook: `http://127.0.0.1:${(hook.address() as AddressInfo).port}/in`,
    mailServer: `smtp://127.0.0.1:${(mailListens.address() as AddressInfo).port}`,
    close: async () => {
      hook.closeAllConnections();
      hook.close();
      await new Promise<void>((closed) => mail.close(() => closed()));
      await push.close();
    },
  };
};

const mentions = (text: string, pot: string): boolean => new RegExp(`\\b${pot}\\b`).test(text);
const messageIdOf = (letter: string): string => /^Message-ID: <([^@]*)@/im.exec(letter)?.[1] ?? '';

/** Message-IDs of all notices by e-mail, one a notice. */
const expectedMessageIds = (data: string): ReadonlySet<string> => {
  const database = openDatabase(join(data, 'waxwarden.db'));
  const keys = database.writer
    .prepare<[], string>("SELECT key FROM outbox WHERE channel = 'mail'")
    .pluck()
    .all();
  database.close();
  return new Set(keys.map(pushTopic));
};

/** Receivers, and a lab whose pots, one for each kill, are to be watched. `folder` takes its lab file. */
export const watchPots = async (folder: string, kills: number) => {
  const pots = Array.from({ length: kills }, (_, kill) => hotPot(kill));
  const receivers = await startReceivers();
  const { posts, letters, push } = receivers;
  const file = join(folder, 'killed-lab.yaml');
  const authority = join(folder, 'push-service.pem');
  writeFileSync(file, labFile(pots, receivers.webhook));
  writeFileSync(authority, push.certificate);
  let cookie = '';
  const alarmsOf = async (lab: LabProcess): Promise<readonly AlarmView[]> => {
    const answer = await fetch(`${lab.address}/api/alarms?state=all&limit=2000`, { headers: { cookie } });
    if (!answer.ok) throw new Error(`alarms: ${answer.status} ${await answer.text()}`);
    return ((await answer.json()) as readonly AlarmView[]).filter(({ rule }) => rule === 'fire-risk');
  };
  const potsWithout = (isThere: (pot: string) => boolean): readonly string[] =>
    pots.filter((pot) => !isThere(pot));
  // On a machine that needs long for a start the heat is past when it is learned, and its change is marked so.
  const withoutWebhook = () =>
    potsWithout((pot) =>
      posts.some(
        ({ kind, rule, subject }) =>
          (kind === 'raised' || kind === 'learned') && rule === 'fire-risk' && subject === pot,
      ),
    );
  const withoutMail = () => potsWithout((pot) => letters.some((letter) => mentions(letter, pot)));
  const withoutPush = () =>
    potsWithout((pot) =>
      push.received.some(({ payload }) => mentions(`${payload.title} ${payload.body}`, pot)),
    );
  const haveCome = async (): Promise<void> => {
    const latest = performance.now() + PATIENCE_MILLIS;
    await until(
      () =>
        performance.now() > latest ||
        withoutWebhook().length + withoutMail().length + withoutPush().length === 0,
    );
  };
  return {
    args: ['--lab', file, '--push-hosts', push.host],
    env: {
      NODE_EXTRA_CA_CERTS: authority,
      WAXWARDEN_MAIL: receivers.mailServer,
      WAXWARDEN_MAIL_FROM: 'alarms@lab.example',
    },
    /** The first manager with a phone; once, before the first kill. */
    joinWithPhone: async (lab: LabProcess): Promise<void> => {
      cookie = await joinAsFirst(lab);
      const answer = await fetch(`${lab.address}/api/push/subscriptions`, {
        method: 'POST',
        headers: { cookie, origin: lab.address, 'content-type': 'application/json' },
        body: JSON.stringify(push.subscribe()),
      });
      if (!answer.ok) throw new Error(`phone: ${answer.status} ${await answer.text()}`);
    },
    /** Of the process that runs at the end; ends it by SIGTERM. */
    outcome: async (lab: LabProcess, data: string) => {
      await haveCome();
      const stations = (await alarmsOf(lab)).map(({ station }) => station);
      const status = await lab.stop();
      const messageIds = expectedMessageIds(data);
      const alarms: AlarmsAfterKills = {
        withoutAlarm: potsWithout((pot) => stations.includes(pot)),
        doubled: pots.filter((pot) => stations.filter((station) => station === pot).length > 1),
        withoutWebhook: withoutWebhook(),
        withoutMail: withoutMail(),
        withoutPush: withoutPush(),
        strangeLetters: letters.filter((letter) => !messageIds.has(messageIdOf(letter))).length,
        strangePushes: push.received.filter(
          ({ headers, payload }) => headers.topic !== pushTopic(payload.tag),
        ).length,
      };
      return {
        status,
        alarms,
        repeats: {
          webhook: posts.length - new Set(posts.map((post) => JSON.stringify(post))).size,
          mail: letters.length - new Set(letters.map(messageIdOf)).size,
        },
      };
    },
    close: receivers.close,
  };
};
