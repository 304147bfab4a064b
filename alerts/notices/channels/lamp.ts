// A notice to a lamp or a buzzer over MQTT, not retained: the event itself. How things stand is retained under the
// topics of the stations. It is handed to the broker's client, which keeps it while the broker is away.

import { sendAnswer } from '../outbox/send-answer.ts';
import type { Send } from '../outbox/runner.ts';

export type Publish = (topic: string, payload: string, options: { readonly retain: boolean }) => void;

export const lampSender =
  (publish: Publish): Send =>
  async (row) => {
    const { alarm } = row.body;
    const payload = {
      kind: row.kind,
      sound: row.kind === 'raised',
      alarm: alarm?.id ?? null,
      rule: alarm?.rule ?? null,
      subject: alarm?.subject ?? null,
      priority: alarm?.priority ?? null,
      at: new Date(row.body.at).toISOString(),
      key: row.key,
      repeat: row.isRepeat,
    };
    publish(row.address, JSON.stringify(payload), { retain: false });
    return { kind: 'delivered', answer: sendAnswer('handed-to-broker') };
  };
