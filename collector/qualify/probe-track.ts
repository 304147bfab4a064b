// What qualification remembers of a probe and of a gateway, as plain JSON, and the views that screens need of it.

import type { Quality } from '../../lab/reading.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { PowerOnDoubt } from './power-on-value.ts';

export interface ProbeTrack {
  readonly gateway: string;
  readonly firstSeen: EpochMillis;
  /** When its gateway was last heard with it, by the collector's clock. */
  readonly heardAt: EpochMillis;
  /** Newest reading, corrected. */
  readonly at: EpochMillis;
  readonly celsius: number;
  readonly quality: Quality;
  /** Newest reading that was believed, before correction. */
  readonly lastGood: { readonly at: EpochMillis; readonly raw: number } | null;
  readonly doubt: PowerOnDoubt | null;
}

export interface GatewayTrack {
  readonly online: boolean;
  /** When it last said so, by the collector's clock. */
  readonly saidAt: EpochMillis;
}

/** Plain JSON in parts, `probe/{id}` and `gateway/{id}`; parts are replaced, never mutated. */
export type QualifyState = Readonly<Record<string, unknown>>;

const PROBE = 'probe/';
export const probePart = (id: string): string => PROBE + id;
export const gatewayPart = (id: string): string => `gateway/${id}`;

// The parts are written by `qualifyStep` alone, so their shape is known from their name.
export const probeTrack = (state: QualifyState, id: string): ProbeTrack | undefined =>
  state[probePart(id)] as ProbeTrack | undefined;
export const gatewayTrack = (state: QualifyState, id: string): GatewayTrack | undefined =>
  state[gatewayPart(id)] as GatewayTrack | undefined;

/** A probe that was ever heard, claimed or not, with its newest value. */
export interface HeardProbe {
  readonly id: string;
  readonly gateway: string;
  readonly firstSeen: EpochMillis;
  readonly lastReadingAt: EpochMillis;
  readonly celsius: number;
  readonly quality: Quality;
}

export const heardProbes = (state: QualifyState): readonly HeardProbe[] =>
  Object.keys(state).flatMap((part) => {
    const id = part.slice(PROBE.length);
    const track = part.startsWith(PROBE) ? probeTrack(state, id) : undefined;
    return track === undefined
      ? []
      : [
          {
            id,
            gateway: track.gateway,
            firstSeen: track.firstSeen,
            lastReadingAt: track.at,
            celsius: track.celsius,
            quality: track.quality,
          },
        ];
  });

/** null while it has never said. */
export const gatewayOnline = (state: QualifyState, gateway: string): boolean | null =>
  gatewayTrack(state, gateway)?.online ?? null;
