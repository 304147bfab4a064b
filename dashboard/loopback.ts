// Whether an address can be reached from this machine alone.
export const isLoopback = (host: string): boolean =>
  host === 'localhost' || host === '::1' || /^127\.\d{1,3}\.\d{1,3}\.\d{1,3}$/.test(host);
