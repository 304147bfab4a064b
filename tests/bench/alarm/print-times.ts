// Two JSON lines of measured times against those of a bare peer: the middle and the slowest hundredth, by nearest rank.

export const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.ceil(values.length * share) - 1] ?? Number.NaN;
export const roundToHundredth = (value: number): number => Math.round(value * 100) / 100;

/** Times in milliseconds; the lines are called `{name}-p50` and `{name}-p99`. */
export const printTimes = (
  name: string,
  ours: readonly number[],
  peers: readonly number[],
  note: string,
): void => {
  for (const [rank, share] of [
    ['p50', 0.5],
    ['p99', 0.99],
  ] as const) {
    const value = quantile(ours, share);
    const peer = quantile(peers, share);
    console.log(
      JSON.stringify({
        name: `${name}-${rank}`,
        value: roundToHundredth(value),
        unit: 'ms',
        peer: 'bare publish and subscribe on the same broker',
        peer_value: roundToHundredth(peer),
        ratio: roundToHundredth(value / peer),
        n: ours.length,
        note,
      }),
    );
  }
};
