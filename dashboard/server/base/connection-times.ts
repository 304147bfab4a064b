// How long a web server waits for a connection, so that whoever begins and never goes on holds no place for long.

const REQUEST_SECONDS = 30;
/** A connection may be idle for so many times as long: a month's sheet takes a while to make. */
const IDLE_FACTOR = 4;

/** As Fastify takes them. `seconds`: how long a request may take to arrive whole. */
export function connectionTimes(seconds = REQUEST_SECONDS) {
  const requestMillis = seconds * 1000;
  return {
    requestTimeout: requestMillis,
    // A connection on which nothing comes and nothing goes.
    connectionTimeout: IDLE_FACTOR * requestMillis,
    http: { headersTimeout: requestMillis, connectionsCheckingInterval: Math.min(requestMillis / 2, 5000) },
  };
}
