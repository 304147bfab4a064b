// The way to the broker: state with a last will, present values as soon as they are measured, and what waited meanwhile
// afterwards, in order, a little at a time. What the broker acknowledged leaves the buffer; nothing else does. A broker
// that lost its memory (killed, a power cut) acknowledges what it hands to nobody until the collector is back, and reports
// it under MQTT 5: that stays in the buffer too. Under MQTT 3.1.1 a broker cannot report it.

import { connect, type MqttClient } from 'mqtt';
import { endClient, isVersionRefusal, unreceivedMessages } from '../collector/intake/mqtt-client.ts';
import { pause } from '../collector/pause.ts';
import { reasonOf } from '../wax/problem-error.ts';
import type { SampleBuffer, Waiting } from './buffer.ts';
import { senmlPack } from './senml-pack.ts';

export interface UplinkSettings {
  readonly site: string;
  readonly gateway: string;
  /** `mqtt://` or `mqtts://`. */
  readonly url: string;
  readonly user?: string;
  readonly password?: string;
  /** Certificate of the authority that the broker's own is checked against. */
  readonly authority?: Buffer;
}

/** Sweeps that share a message of the past, and records at most: far below what a broker takes at once. */
const PAST_SWEEPS = 20;
const PAST_RECORDS = 400;
/** Pause between messages of the past, so that present values find the line free. */
const PAUSE_MILLIS = 100;
const RETRY_MILLIS = 3000;
const CONNECT_MILLIS = 10_000;
const KEEPALIVE_SECONDS = 20;

export class Uplink {
  readonly #settings: UplinkSettings;
  readonly #buffer: SampleBuffer;
  readonly #log: (line: string) => void;
  readonly #onTheirWay = new Set<number>();
  readonly #stopping = new AbortController();
  /** Messages of this connection that the broker acknowledged and handed to nobody. */
  #unreceived: Set<number> = new Set();
  #protocolVersion: 4 | 5 = 5;
  #client: MqttClient | null = null;
  #isCatchingUp = false;
  #lastTrouble = '';

  constructor(settings: UplinkSettings, buffer: SampleBuffer, log: (line: string) => void) {
    this.#settings = settings;
    this.#buffer = buffer;
    this.#log = log;
    this.#connect();
  }

  /** Sends a sweep that was measured just now; while there is no connection it stays in the buffer. */
  async sendLive(sweep: Waiting): Promise<void> {
    const client = this.#client;
    if (client === null) return;
    // The past begins only behind a present value that has arrived.
    if (await this.#send(client, 'senml', [sweep]))
      void this.#catchUp(client).catch((error: unknown) => this.#trouble(reasonOf(error)));
  }

  async stop(): Promise<void> {
    this.#stopping.abort();
    const client = this.#client;
    this.#client = null;
    if (client === null) return;
    client.publish(this.#topic('state'), 'offline', { qos: 1, retain: true }, () => {});
    await endClient(client);
  }

  #topic(last: string): string {
    const { site, gateway } = this.#settings;
    return `wax/${site}/${gateway}/${last}`;
  }

  /** A client for each connection: one that reconnects by itself would send old values as present ones. */
  #connect(): void {
    const { url, site, gateway, user, password, authority } = this.#settings;
    const client = connect(url, {
      clientId: `gateway-${site}-${gateway}`,
      protocolVersion: this.#protocolVersion,
      clean: true,
      keepalive: KEEPALIVE_SECONDS,
      connectTimeout: CONNECT_MILLIS,
      reconnectPeriod: 0,
      will: { topic: this.#topic('state'), payload: Buffer.from('offline'), qos: 1, retain: true },
      ...(user !== undefined && { username: user }),
      ...(password !== undefined && { password }),
      ...(authority !== undefined && { ca: authority }),
    });
    client.on('error', (error) => {
      if (this.#protocolVersion === 5 && isVersionRefusal(error)) this.#protocolVersion = 4;
      else this.#trouble(reasonOf(error));
    });
    const unreceived = unreceivedMessages(client);
    client.once('connect', () => {
      this.#unreceived = unreceived;
      client.publish(this.#topic('state'), 'online', { qos: 1, retain: true }, () => {});
      this.#client = client;
      this.#lastTrouble = '';
      this.#log(`connected to the broker; ${this.#buffer.size} sweeps wait`);
    });
    client.once('close', () => {
      if (this.#client === client) this.#trouble('connection lost');
      this.#client = null;
      this.#onTheirWay.clear();
      client.end(true);
      if (!this.#stopping.signal.aborted) void this.#reconnectLater();
    });
  }

  async #reconnectLater(): Promise<void> {
    if (await pause(RETRY_MILLIS, this.#stopping.signal)) this.#connect();
  }

  /** Once a trouble, not once a try. */
  #trouble(reason: string): void {
    if (reason !== this.#lastTrouble) this.#log(`broker: ${reason}`);
    this.#lastTrouble = reason;
  }

  async #send(
    client: MqttClient,
    last: 'senml' | 'senml-past',
    sweeps: readonly Waiting[],
  ): Promise<boolean> {
    const sequences = sweeps.flatMap(({ sequence }) => (sequence === null ? [] : [sequence]));
    for (const sequence of sequences) this.#onTheirWay.add(sequence);
    try {
      const message = await client.publishAsync(this.#topic(last), senmlPack(this.#buffer.id, sweeps), {
        qos: 1,
      });
      const messageId = message !== undefined && 'messageId' in message ? message.messageId : undefined;
      if (messageId !== undefined && this.#unreceived.delete(messageId)) {
        this.#trouble('nobody subscribes to this site; waiting for the collector');
        return false;
      }
      this.#buffer.acknowledged(sequences);
      this.#lastTrouble = '';
      return true;
    } catch (error) {
      if (this.#client === client) this.#trouble(reasonOf(error));
      return false;
    } finally {
      if (this.#client === client) for (const sequence of sequences) this.#onTheirWay.delete(sequence);
    }
  }

  async #catchUp(client: MqttClient): Promise<void> {
    if (this.#isCatchingUp) return;
    this.#isCatchingUp = true;
    try {
      while (this.#client === client) {
        const sweeps = takeTogether(this.#buffer.oldest(PAST_SWEEPS, this.#onTheirWay));
        if (sweeps.length === 0) return;
        if (!(await this.#send(client, 'senml-past', sweeps))) return;
        if (!(await pause(PAUSE_MILLIS, this.#stopping.signal))) return;
      }
    } finally {
      this.#isCatchingUp = false;
    }
  }
}

/** The first sweeps whose clocks were alike and whose records fit one message; always at least one. */
function takeTogether(sweeps: readonly Waiting[]): readonly Waiting[] {
  const first = sweeps[0];
  let records = 0;
  const end = sweeps.findIndex(({ samples, isClockSet }, index) => {
    records += samples.length;
    return index > 0 && (isClockSet !== first?.isClockSet || records > PAST_RECORDS);
  });
  return end === -1 ? sweeps : sweeps.slice(0, end);
}
