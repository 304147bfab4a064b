// From one MQTT message to journal entries and rejections. Pure: the time of arrival comes in with the message.

import { type Problem, problem } from '../../wax/result.ts';
import { PAYLOAD_FORMATS, type PayloadFormat, topicParts } from './formats.ts';
import { type Decoded, type Message, NOTHING } from './message.ts';
import { reject } from './reject.ts';

const FORMATS: readonly PayloadFormat[] = Object.values(PAYLOAD_FORMATS);

/** First levels below the site that the collector itself publishes on; no gateway may have these names. */
export const OUR_LEVELS: ReadonlySet<string> = new Set(['station', 'alarm', 'change', 'collector']);

/** What every message of a site comes in on. */
export const siteFilter = (site: string): string => `wax/${site}/#`;

const unknownTopic = (site: string): Problem => problem('unknown-topic', { site });

export const decodeMessage = (message: Message): Decoded => {
  const [root, site, ...levels] = message.topic.split('/');
  const rejected = (reason: Problem): Decoded => ({ entries: [], rejections: [reject(message, reason)] });
  if (root !== 'wax') return rejected(unknownTopic(message.site));
  if (site !== message.site) return rejected(problem('other-site', { site: message.site }));
  if (OUR_LEVELS.has(levels[0] ?? '')) return rejected(problem('reserved-topic'));
  for (const { levels: pattern, decode } of FORMATS) {
    const parts = topicParts(pattern, levels);
    if (parts === null) continue;
    // An empty retained message makes a broker forget a topic.
    if (message.payload.length === 0 && message.delivery === 'retained') return NOTHING;
    return decode(message, parts);
  }
  return rejected(unknownTopic(message.site));
};
