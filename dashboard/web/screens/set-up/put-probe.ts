// How a probe is saved: at the version of the lab that it was read with.

import type { ProbeView } from '../../../api/schemas.ts';
import { type Answer, asRead, put } from '../../base/api.ts';
import { type DescribedProbe, probeBody, probePath } from './probe-body.ts';

/** Saves the probe, read at `version` of the lab; without a body it puts back what was there. */
export const putProbe = (
  probe: DescribedProbe,
  version: number,
  body: ReturnType<typeof probeBody> = probeBody(probe),
): Promise<Answer<ProbeView>> => put<ProbeView>(probePath(probe.id), body, asRead(version));
