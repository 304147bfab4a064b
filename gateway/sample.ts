// One measurement as a source gives it: what was measured, in the unit in which it was, and when.

export type SampleUnit = 'Cel' | 'K' | 'Far' | 'Ohm' | 'mV' | 'V';

export interface Sample {
  readonly probe: string;
  readonly unit: SampleUnit;
  readonly value: number;
  /** Unix milliseconds by this machine's clock. */
  readonly at: number;
}

/** Why a probe gave nothing this time. */
export interface SourceFault {
  /** Probe, or the address of the device where none of its probes could be read. */
  readonly subject: string;
  readonly code: 'missing' | 'crc' | 'power-on' | 'unreadable' | 'out-of-range' | 'no-answer';
  readonly detail: string;
}

export interface Sweep {
  readonly samples: readonly Sample[];
  readonly faults: readonly SourceFault[];
}

export interface ProbeSource {
  /** Reads everything once; never rejects. */
  readonly sweep: () => Promise<Sweep>;
  readonly close: () => Promise<void>;
}
