// The answer of a broker to a message that is published to it.

export type BrokerAnswer =
  /** `unknown`: it took the message and does not report whether anybody has subscribed to the topic. */
  | { readonly kind: 'taken'; readonly receivers: 'some' | 'none' | 'unknown' }
  | { readonly kind: 'refused'; readonly reason: string }
  /** There is no connection; nothing was sent. */
  | { readonly kind: 'away' };
