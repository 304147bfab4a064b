// A sign of life to something outside, once a minute while every part works: over MQTT, and to an address where one is
// set. Whoever waits for it learns from its absence that the watch is dead, which the watch itself cannot report.

import { encodeCause } from '../../alerts/notices/texts/self-cause.ts';
import { errorAnswer, type SendAnswer, sendAnswer } from '../../alerts/notices/outbox/send-answer.ts';
import type { Intake } from '../../collector/intake/intake.ts';
import type { RunningLab } from '../../dashboard/queries/running-lab.ts';
import type { Log } from '../console/log.ts';

const INTERVAL_MILLIS = 60_000;
const TIMEOUT_MILLIS = 10_000;
/** Tries in a row without success after which the route counts as failing. Common practice, no source. */
const FAILING_AFTER_TRIES = 3;

export interface HeartbeatParts {
  readonly running: Pick<RunningLab, 'health' | 'lab' | 'now' | 'openAlarms'>;
  readonly intake: Pick<Intake, 'append' | 'publish'>;
  readonly log: Log;
  /** Null: over MQTT alone. */
  readonly url: string | null;
}

const heartbeatTopic = (site: string): string => `wax/${site}/collector/heartbeat`;

async function post(
  url: string,
  body: string,
): Promise<{ readonly ok: boolean; readonly answer: SendAnswer }> {
  try {
    const response = await fetch(url, {
      method: 'POST',
      redirect: 'manual',
      signal: AbortSignal.timeout(TIMEOUT_MILLIS),
      headers: { 'content-type': 'application/json' },
      body,
    });
    await response.body?.cancel();
    return { ok: response.ok, answer: sendAnswer('answered', { status: response.status }) };
  } catch (error) {
    return { ok: false, answer: errorAnswer(error) };
  }
}

/** Sends one sign of life; the route by the address is an alarm once it failed three times in a row. */
export function heartbeat({ running, intake, log, url }: HeartbeatParts): () => Promise<void> {
  let failures = 0;
  /** Null: not since the start; the alarm about it may be open from before. */
  let worksByReport: boolean | null = null;
  const report = (ok: boolean, answer: SendAnswer): void => {
    const detail = encodeCause({ code: 'channel-answered', answer });
    const finding = { kind: 'self-check', part: 'channel', name: 'heartbeat', ok, detail } as const;
    if (worksByReport === ok) return;
    worksByReport = ok;
    // A disk that refuses is shown by the journal's own state.
    intake.append([{ ...finding, receivedAt: running.now() }]).catch(() => {});
  };
  return async () => {
    const parts = Object.values(await running.health());
    if (parts.some(({ ok }) => !ok)) return;
    const { id } = running.lab().site;
    const text = JSON.stringify({
      site: id,
      at: new Date(running.now()).toISOString(),
      open_alarms: running.openAlarms().length,
    });
    intake.publish(heartbeatTopic(id), text, { retain: false });
    if (url === null) return report(true, sendAnswer('no-address'));
    const { ok, answer } = await post(url, text);
    failures = ok ? 0 : failures + 1;
    if (!ok) log.write('warn', 'heartbeat-not-delivered', { answer: answer.code, failures });
    if (ok || failures >= FAILING_AFTER_TRIES) report(ok, answer);
  };
}

/** Returns a function that ends it. */
export function startHeartbeat(parts: HeartbeatParts): () => void {
  const beat = heartbeat(parts);
  const send = (): void => void beat().catch(() => {});
  send();
  const timer = setInterval(send, INTERVAL_MILLIS);
  return () => clearInterval(timer);
}
