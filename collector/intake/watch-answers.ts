// Notices a broker that takes what it is sent and acknowledges none of it: pings are answered, so the library sees nothing
// wrong, while lamps stay dark and what is sent piles up in the memory of both.

import type { MqttClient } from 'mqtt';

/** Longer than a broker takes that writes to a slow disk; our figure. */
const UNANSWERED_MILLIS = 30_000;
const LOOKS = 6;
const ANSWERS: ReadonlySet<string> = new Set(['puback', 'suback', 'unsuback']);

export interface AnswerParts {
  /** Whether what the broker sends is read just now; else its answers wait with us. */
  readonly isReading: () => boolean;
  /** Nothing was answered for long; the connection is ended behind it, and made anew by its client. */
  readonly onSilent: () => void;
  /** It acknowledges again. */
  readonly onAnswering: () => void;
  /** For tests; half a minute when absent. */
  readonly unansweredMillis?: number | undefined;
}

export interface AnswerWatch {
  /** From the silence on until something that was published is acknowledged. */
  readonly isSilent: () => boolean;
  readonly stop: () => void;
}

export function watchAnswers(client: MqttClient, parts: AnswerParts): AnswerWatch {
  const { isReading, onAnswering, onSilent, unansweredMillis = UNANSWERED_MILLIS } = parts;
  let waitingSince: number | null = null;
  let isSilent = false;
  client.on('packetreceive', ({ cmd }) => {
    if (!ANSWERS.has(cmd)) return;
    waitingSince = null;
    if (!isSilent || cmd !== 'puback') return;
    isSilent = false;
    onAnswering();
  });
  const look = (): void => {
    const isWaiting = client.connected && Object.keys(client.outgoing).length > 0 && isReading();
    const since = isWaiting ? (waitingSince ?? performance.now()) : null;
    waitingSince = since;
    if (since === null || performance.now() - since < unansweredMillis) return;
    waitingSince = null;
    isSilent = true;
    onSilent();
    client.stream.destroy();
  };
  const timer = setInterval(look, unansweredMillis / LOOKS).unref();
  return { isSilent: () => isSilent, stop: () => clearInterval(timer) };
}
