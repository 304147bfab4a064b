// What a gateway reports of its probes' devices: that one died is known at once, without waiting for its silence.

import type { ProbesGoneEntry } from '../../../../lab/entry.ts';
import { type Draft, editProbe } from '../state/draft.ts';

/** Of probes that have sent something, and that the gateway owns; one that sends again is gone no longer. */
export function takeGone(draft: Draft, { gateway, probes }: ProbesGoneEntry): void {
  const { plan, quiet } = draft;
  for (const id of probes) {
    const probe = plan.probes.get(id);
    if (probe === undefined || probe.probe.gateway !== gateway) continue;
    const memory = editProbe(draft, probe);
    if (memory === undefined) continue;
    memory.goneAt ??= draft.receivedAt;
    quiet.untilOfProbes[probe.index] = 0;
  }
  const own = plan.gateways.get(gateway);
  if (own !== undefined) quiet.gateways[own.index] = undefined;
}
