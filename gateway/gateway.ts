// The gateway: every few seconds each source is read, the values go to disk and from there to the broker. A source that is
// slow, or waits for a device that is silent, holds up no other.

import { reasonOf } from '../wax/problem-error.ts';
import type { SampleBuffer, Waiting } from './buffer.ts';
import type { ProbeSource, SourceFault } from './sample.ts';
import type { Uplink } from './uplink.ts';

export interface GatewayParts {
  readonly sources: readonly ProbeSource[];
  readonly buffer: SampleBuffer;
  readonly uplink: Pick<Uplink, 'sendLive' | 'stop'>;
  /** Unix milliseconds. */
  readonly now: () => number;
  /** Milliseconds that grow evenly, whatever the clock is set to. */
  readonly monotonic: () => number;
  readonly isClockSet: () => boolean;
  readonly log: (line: string) => void;
  /** Sweeps that the buffer may hold. */
  readonly mostWaiting: number;
}

/** A clock that is only trimmed moves by less between two sweeps. */
const STEP_MILLIS = 2000;

export class Gateway {
  readonly #parts: GatewayParts;
  /** Faults that are reported already, by source and subject. */
  readonly #faults = new Map<ProbeSource, Map<string, string>>();
  readonly #busy = new Set<ProbeSource>();
  #isStopped = false;
  /** Reported once, not once a sweep. */
  #diskTrouble = '';
  /** Wall clock minus even time at the last sweep. */
  #clockOffset: number | null = null;
  #firstUnset: number | null = null;

  constructor(parts: GatewayParts) {
    this.#parts = parts;
  }

  /** Reads each source once that is not being read still, and hands on what it gives as soon as it does. */
  async sweep(): Promise<void> {
    const idle = this.#parts.sources.filter((source) => !this.#busy.has(source));
    await Promise.all(idle.map((source) => this.#read(source)));
  }

  async #read(source: ProbeSource): Promise<void> {
    this.#busy.add(source);
    try {
      const { samples, faults } = await source.sweep();
      if (this.#isStopped) return;
      this.#report(source, faults);
      await this.#handOn(samples);
    } finally {
      this.#busy.delete(source);
    }
  }

  async #handOn(samples: Waiting['samples']): Promise<void> {
    const isSet = this.#parts.isClockSet();
    const sequence = this.#keep(samples, isSet);
    if (samples.length > 0) await this.#parts.uplink.sendLive({ sequence, samples, isClockSet: isSet });
  }

  /** Its number; null where the disk is full or broken: what is measured now is sent all the same. */
  #keep(samples: Waiting['samples'], isSet: boolean): number | null {
    const { buffer, now, mostWaiting, log } = this.#parts;
    try {
      this.#followClock(isSet);
      if (samples.length === 0) return null;
      const sequence = buffer.add(samples, now(), isSet);
      if (!isSet) this.#firstUnset ??= sequence;
      const dropped = buffer.dropBeyond(mostWaiting);
      if (dropped > 0) log(`buffer full: ${dropped} oldest sweeps were given up`);
      this.#diskTrouble = '';
      return sequence;
    } catch (error) {
      const reason = reasonOf(error);
      if (reason !== this.#diskTrouble)
        log(`buffer: ${reason}; present values go on, and are lost while there is no broker`);
      this.#diskTrouble = reason;
      return null;
    }
  }

  async stop(): Promise<void> {
    this.#isStopped = true;
    await this.#parts.uplink.stop();
    await Promise.all(this.#parts.sources.map((source) => source.close()));
    this.#parts.buffer.close();
  }

  /** When the clock is set for the first time, what waits from before is moved with it. */
  #followClock(isSet: boolean): void {
    const { now, monotonic, buffer, log } = this.#parts;
    const offset = now() - monotonic();
    const step = this.#clockOffset === null ? 0 : offset - this.#clockOffset;
    this.#clockOffset = offset;
    if (Math.abs(step) > STEP_MILLIS) log(`the clock was set by ${(step / 1000).toFixed(1)} s`);
    if (!isSet || this.#firstUnset === null) return;
    if (Math.abs(step) > STEP_MILLIS) buffer.clockWasSet(this.#firstUnset, Math.round(step));
    this.#firstUnset = null;
  }

  /** Logs what is new and what is over. */
  #report(source: ProbeSource, faults: readonly SourceFault[]): void {
    const { log } = this.#parts;
    const before = this.#faults.get(source) ?? new Map<string, string>();
    this.#faults.set(source, before);
    const present = new Map(faults.map((fault) => [fault.subject, fault]));
    for (const { subject, code, detail } of present.values()) {
      if (before.get(subject) !== code) log(`${subject}: ${code} (${detail})`);
      before.set(subject, code);
    }
    for (const subject of [...before.keys()].filter((each) => !present.has(each))) {
      log(`${subject}: reads again`);
      before.delete(subject);
    }
  }
}
