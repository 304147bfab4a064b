// Over MQTT, not retained: what a lamp or a buzzer acts on, and every change of an alarm. The present state is retained
// under the topics of the stations.

import type { Lab } from '../../../lab/lab.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Send } from '../outbox/runner.ts';
import { brokerOutcome, type Deliver, deliverInTime } from './broker-outcome.ts';
import { changeFacts, signMessage } from './change-message.ts';

/** A lamp that nobody has connected shows nothing, so that is a failure. */
export const lampSender =
  (deliver: Deliver): Send =>
  async ({ rows: [row] }) => {
    const { alarm } = row.body;
    const payload = {
      kind: row.kind,
      sound: row.kind === 'raised' || row.kind === 'test',
      alarm: alarm?.id ?? null,
      rule: alarm?.rule ?? null,
      subject: alarm?.subject ?? null,
      priority: alarm?.priority ?? null,
      at: new Date(row.body.at).toISOString(),
      key: row.key,
      repeat: row.isRepeat,
    };
    return brokerOutcome(await deliverInTime(deliver, row.address, JSON.stringify(payload)), true);
  };

export interface ChangeParts {
  readonly lab: () => Lab;
  readonly deliver: Deliver;
  readonly secret: string;
  readonly now: () => EpochMillis;
}

/** Nobody need listen. */
export const changeSender =
  ({ deliver, lab, now, secret }: ChangeParts): Send =>
  async ({ rows: [row] }) => {
    const text = signMessage(changeFacts(row, lab()), secret, Math.floor(now() / 1000));
    return brokerOutcome(await deliverInTime(deliver, row.address, text), false);
  };
