// A thousand kills at random instants under load: nothing that was acknowledged is lost or doubled. Prints after each
// round of a hundred, so that a run that is broken off has said something. WAXWARDEN_KILLS sets how many.

import { freePort } from '../free-port.ts';
import { killedAtWork } from '../integration/kills.ts';

const ROUND = 100;
const MESSAGES_A_KILL = 400;

export const run = async (): Promise<void> => {
  const wanted = Number(process.env.WAXWARDEN_KILLS ?? 1000);
  for (let done = 0; done < wanted; done += ROUND) {
    const kills = Math.min(ROUND, wanted - done);
    const messages = kills * MESSAGES_A_KILL;
    const port = await freePort();
    const seed = 1_000_003 + done;
    const after = await killedAtWork({
      ...{ broker: `embedded:${port}`, gatewayUrl: `mqtt://127.0.0.1:${port}` },
      ...{ seed, kills, messages },
    });
    const note = `seed ${seed}; acknowledged ${after.acknowledged}, stored ${after.stored}`;
    const lost = Math.max(0, after.acknowledged - after.stored);
    console.log(JSON.stringify({ name: 'kill-lost', value: lost, unit: 'readings', n: kills, note }));
    console.log(JSON.stringify({ name: 'kill-wrong', value: after.wrong, unit: 'readings', n: kills, note }));
  }
};
