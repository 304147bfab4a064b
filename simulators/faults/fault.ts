// What can be made to go wrong, each for a stretch of time. A script is a list of these; it is data, so that a test
// can write one down and a demonstration can be described beforehand.

interface Stretch {
  /** Milliseconds since 1970; the end is exclusive. */
  readonly from: number;
  readonly to: number;
}

export type Fault = Stretch &
  (
    | { readonly kind: 'thermostat-stuck-on'; readonly station: string }
    /** Turned up by hand (or down, when negative). */
    | { readonly kind: 'set-point-shifted'; readonly station: string; readonly celsius: number }
    | { readonly kind: 'left-on'; readonly station: string }
    /** Someone takes it off the mains; it outweighs `left-on` when it comes after it in the script. */
    | { readonly kind: 'switched-off'; readonly station: string }
    | { readonly kind: 'low-wax'; readonly station: string; readonly share: number }
    | { readonly kind: 'gateway-dead'; readonly gateway: string }
    /** It goes on answering what it answered last. */
    | { readonly kind: 'probe-stuck'; readonly probe: string }
    | { readonly kind: 'window-open' }
    | { readonly kind: 'power-cut' }
  );

export const faultsAt = (faults: readonly Fault[], at: number): readonly Fault[] =>
  faults.filter((fault) => fault.from <= at && at < fault.to);
