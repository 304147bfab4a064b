// What time alone brings about. Looked at on every tick and on every word of a gateway; `now` is the arrival of the
// entry, never the machine's clock.

import { gatewayPart, type GatewayMemory } from './memory.ts';
import type { PlannedRule } from './lab-plan.ts';
import { lookAtGateway } from './gateway-look.ts';
import { keepInOrder } from './alarm-upkeep.ts';
import { hide, judge, type Moment, SITE } from './tell.ts';
import { conditionsOfSite, editSite, part, type Work } from './work.ts';

export function takePassingTime(work: Work): void {
  const moment: Moment = { at: work.receivedAt, tense: 'now', afterGap: false };
  for (const [gateway, probes] of work.plan.gateways) lookAtGateway(work, gateway, probes, moment);
  const lost = work.plan.gatewayRules.find(({ rule }) => rule.kind === 'gateway-lost');
  if (lost !== undefined && work.plan.gateways.size > 1) lookAtAllGateways(work, lost, moment);
  keepInOrder(work, moment.at);
}

/** When every gateway is lost, the power or the network of the house is: one cause, one alarm. */
function lookAtAllGateways(work: Work, planned: PlannedRule, moment: Moment): void {
  const all = [...work.plan.gateways];
  const isLost = ([gateway]: (typeof all)[number]) =>
    part<GatewayMemory>(work.parts, gatewayPart(gateway))?.rules['gateway-lost']?.phase === 'on';
  const dark = all.every(isLost);
  if (!dark && conditionsOfSite(work.parts, SITE)['gateway-lost'] === undefined) return;
  const probes = all.reduce((sum, [, ofGateway]) => sum + ofGateway.length, 0);
  const look = dark
    ? { evidence: { since_at: moment.at, probes_count: probes, how: 'all-gateways' } }
    : ('gone' as const);
  // Each of them has waited for its own delay already.
  const atOnce = { ...planned, times: { ...planned.times, onDelayMillis: 0 } };
  judge(work, editSite(work, SITE), atOnce, SITE, look, moment, () => null);
  for (const one of all)
    hide(work, planned.rule, one[0], dark && isLost(one) ? 'behind:gateway-lost' : null, moment.at);
}
