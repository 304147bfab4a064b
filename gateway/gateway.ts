// The gateway: every few seconds all sources are read at once, the values go to disk and from there to the broker.

import type { SampleBuffer } from './buffer.ts';
import type { ProbeSource, SourceFault } from './sample.ts';
import type { Uplink } from './uplink.ts';

export interface GatewayParts {
  readonly sources: readonly ProbeSource[];
  readonly buffer: SampleBuffer;
  readonly uplink: Pick<Uplink, 'sendLive' | 'stop'>;
  /** Unix milliseconds. */
  readonly now: () => number;
  /** Milliseconds that only ever grow evenly, whatever the clock is set to. */
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
  /** Faults that are reported already, by subject. */
  readonly #faults = new Map<string, string>();
  /** Wall clock minus even time at the last sweep. */
  #clockOffset: number | null = null;
  #firstUnset: number | null = null;

  constructor(parts: GatewayParts) {
    this.#parts = parts;
  }

  /** Reads everything once and hands it on. */
  async sweep(): Promise<void> {
    const { sources, buffer, uplink, now, isClockSet, mostWaiting, log } = this.#parts;
    const sweeps = await Promise.all(sources.map((source) => source.sweep()));
    this.#report(sweeps.flatMap(({ faults }) => faults));
    const samples = sweeps.flatMap((sweep) => sweep.samples);
    const isSet = isClockSet();
    this.#followClock(isSet);
    if (samples.length === 0) return;
    const sequence = buffer.add(samples, now(), isSet);
    if (!isSet) this.#firstUnset ??= sequence;
    const dropped = buffer.dropBeyond(mostWaiting);
    if (dropped > 0) log(`buffer full: ${dropped} oldest sweeps were given up`);
    await uplink.sendLive({ sequence, samples, isClockSet: isSet });
  }

  async stop(): Promise<void> {
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
  #report(faults: readonly SourceFault[]): void {
    const { log } = this.#parts;
    const present = new Map(faults.map((fault) => [fault.subject, fault]));
    for (const { subject, code, detail } of present.values()) {
      if (this.#faults.get(subject) !== code) log(`${subject}: ${code} (${detail})`);
      this.#faults.set(subject, code);
    }
    for (const subject of [...this.#faults.keys()].filter((each) => !present.has(each))) {
      log(`${subject}: reads again`);
      this.#faults.delete(subject);
    }
  }
}
