// A thousand kills at random instants under load: nothing that was acknowledged is lost or doubled, every pot that got too
// hot has its one alarm, and every channel has sent word of it. Prints after each round of a hundred, so that a run that is
// broken off has printed something. WAXWARDEN_KILLS sets how many, WAXWARDEN_KILLS_SEED the first seed.

import { freePort } from '../free-port.ts';
import { killAtWork } from '../integration/kills.ts';

const ROUND = 100;
const MESSAGES_A_KILL = 400;

export const run = async (): Promise<void> => {
  const wanted = Number(process.env.WAXWARDEN_KILLS ?? 1000);
  for (let done = 0; done < wanted; done += ROUND) {
    const kills = Math.min(ROUND, wanted - done);
    const messages = kills * MESSAGES_A_KILL;
    const port = await freePort();
    const seed = Number(process.env.WAXWARDEN_KILLS_SEED ?? 1_000_003) + done;
    const after = await killAtWork({
      broker: `embedded:${port}`,
      gatewayUrl: `mqtt://127.0.0.1:${port}`,
      seed,
      kills,
      messages,
    });
    const { acknowledged, stored, wrong, alarms, repeats } = after;
    const note = `seed ${seed}; acknowledged ${acknowledged}, stored ${stored}; sent once more: ${repeats.webhook} webhook, ${repeats.mail} mail`;
    const print = (name: string, value: number, unit: string): void =>
      console.log(JSON.stringify({ name, value, unit, n: kills, note }));
    print('kill-lost', Math.max(0, acknowledged - stored), 'readings');
    print('kill-wrong', wrong, 'readings');
    print('kill-alarms-lost', alarms.withoutAlarm.length, 'alarms');
    print('kill-alarms-doubled', alarms.doubled.length, 'alarms');
    print('kill-webhooks-lost', alarms.withoutWebhook.length, 'alarms');
    print('kill-mails-lost', alarms.withoutMail.length, 'alarms');
    print('kill-pushes-lost', alarms.withoutPush.length, 'alarms');
    print('kill-mails-strange', alarms.strangeLetters, 'letters');
    print('kill-pushes-strange', alarms.strangePushes, 'pushes');
  }
};
