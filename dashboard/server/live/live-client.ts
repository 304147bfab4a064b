// One screen on the live stream. What it does not take is kept only up to a bound; beyond that the screen is
// dropped, because it will come back and catch up, while memory would not.

import type { ServerResponse } from 'node:http';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { KeptEvent } from './event-ring.ts';
import type { Place } from '../base/live-places.ts';

export interface LiveClient {
  readonly reader: ReaderSettings;
  readonly place: Place;
  readonly send: (event: KeptEvent) => void;
  /** `id` is that of the newest event, so that a beat moves no screen back. */
  readonly notice: (event: 'beat' | 'restart', id: string, data: Readonly<Record<string, string>>) => void;
  readonly stillWelcome: () => boolean;
  readonly end: () => void;
}

/** Bytes that may wait for a slow reader; some hundred events. */
const WAITING_LIMIT_BYTES = 256 * 1024;

export const liveClient = (
  response: ServerResponse,
  { reader, place, stillWelcome }: Pick<LiveClient, 'reader' | 'place' | 'stillWelcome'>,
): LiveClient => {
  const write = (text: string): void => {
    if (response.destroyed || response.writableEnded) return;
    response.write(text);
    if (response.writableLength > WAITING_LIMIT_BYTES) response.destroy();
  };
  return {
    reader,
    place,
    stillWelcome,
    send: (event) => {
      const data = event.dataFor(reader);
      if (data !== null) write(`id: ${event.id}\nevent: ${event.event}\ndata: ${data}\n\n`);
    },
    notice: (event, id, data) => write(`id: ${id}\nevent: ${event}\ndata: ${JSON.stringify(data)}\n\n`),
    end: () => {
      if (!response.writableEnded) response.end();
    },
  };
};
