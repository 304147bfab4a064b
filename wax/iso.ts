/** An instant, epoch milliseconds, as it crosses every border: ISO 8601 text in UTC. RangeError beyond what a date can hold. */
export const iso = (at: number): string => new Date(at).toISOString();
export const isoOrNull = (at: number | null | undefined): string | null => (at == null ? null : iso(at));
