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
  const route = routeOf(message);
  if ('code' in route) return { entries: [], rejections: [reject(message, route)] };
  // An empty retained message makes a broker forget a topic.
  if (message.payload.length === 0 && message.delivery === 'retained') return NOTHING;
  return route.format.decode(message, route.parts);
};

interface Route {
  readonly site: string;
  readonly format: PayloadFormat;
  readonly parts: readonly string[];
}

/** By topic: gateways send on the same ones, and to take one apart costs as much as to read the number of a reading. */
const routes = new Map<string, Route>();
const ROUTES_REMEMBERED = 20_000;

/** Who decodes what comes on the topic, or why nobody does. */
function routeOf({ topic, site }: Message): Route | Problem {
  const remembered = routes.get(topic);
  if (remembered?.site === site) return remembered;
  const [root, topicSite, ...levels] = topic.split('/');
  if (root !== 'wax') return unknownTopic(site);
  if (topicSite !== site) return problem('other-site', { site });
  if (OUR_LEVELS.has(levels[0] ?? '')) return problem('reserved-topic');
  for (const format of FORMATS) {
    const parts = topicParts(format.levels, levels);
    if (parts === null) continue;
    const route = { site, format, parts };
    if (routes.size >= ROUTES_REMEMBERED) routes.clear();
    routes.set(topic, route);
    return route;
  }
  return unknownTopic(site);
}
