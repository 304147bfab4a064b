// A probe as it is saved: everything but the id, which names it, and its gateway, which only the wire knows.

import type { LabView } from '../../../api/lab-bodies.ts';
import type { ProbeView } from '../../../api/schemas.ts';
import { type Answer, asRead, put } from '../../base/api.ts';

export type DescribedProbe = LabView['probes'][number];

export const probePath = (id: string): string => `/api/probes/${encodeURIComponent(id)}`;

export const probeBody = ({ id: _, gateway: __, ...body }: DescribedProbe) => body;

/** Saves the probe, read at `version` of the lab; without a body it puts back what was there. */
export const putProbe = (
  probe: DescribedProbe,
  version: number,
  body: ReturnType<typeof probeBody> = probeBody(probe),
): Promise<Answer<ProbeView>> => put<ProbeView>(probePath(probe.id), body, asRead(version));

/** Of a form for one part of what the lab says of a probe. */
export interface ProbeFormProps {
  readonly probe: DescribedProbe;
  /** Of the lab that the probe was read with. */
  readonly version: number;
  readonly onSaved: (before: DescribedProbe, version: number) => void;
  readonly onCancel: () => void;
}
