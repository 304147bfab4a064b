// What a gateway puts on the wire, written here a second time and not shared with what reads it: topics, plain
// numbers, SenML JSON (RFC 8428) with absolute times, and the retained state.

export interface SimulatedReading {
  readonly probe: string;
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly celsius: number;
}

export interface WireMessage {
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
}

/** `number`: one message a reading, dated by its arrival. `senml`: packs that carry their own instants. */
type GatewayFormat = 'number' | 'senml';

export interface GatewayDesign {
  readonly id: string;
  readonly format: GatewayFormat;
  readonly probes: readonly string[];
}

export const stateMessage = (site: string, gateway: string, state: 'online' | 'offline'): WireMessage => ({
  topic: `wax/${site}/${gateway}/state`,
  payload: state,
  retain: true,
});

export const numberMessages = (
  site: string,
  gateway: string,
  readings: readonly SimulatedReading[],
): readonly WireMessage[] =>
  readings.map(({ probe, celsius }) => ({
    topic: `wax/${site}/${gateway}/${probe}/celsius`,
    payload: String(celsius),
    retain: false,
  }));

/** One pack: base time is the first instant in whole seconds, base name the gateway's. */
export const senmlMessage = (
  site: string,
  gateway: string,
  readings: readonly SimulatedReading[],
): WireMessage => {
  const base = Math.floor((readings[0]?.at ?? 0) / 1000);
  const records = readings.map(({ probe, at, celsius }, index) => {
    const record = { n: probe, v: celsius, t: Math.round(at - base * 1000) / 1000 };
    return index === 0 ? { bn: `urn:dev:org:${site}:${gateway}:`, bt: base, bu: 'Cel', ...record } : record;
  });
  return { topic: `wax/${site}/${gateway}/senml`, payload: JSON.stringify(records), retain: false };
};
