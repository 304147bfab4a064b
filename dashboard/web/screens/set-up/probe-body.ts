// A probe as it is saved: everything but the id, which names it, and its gateway, which comes from its messages alone. Pure.

import type { LabView } from '../../../api/lab-bodies.ts';

export type DescribedProbe = LabView['probes'][number];

export const probePath = (id: string): string => `/api/probes/${encodeURIComponent(id)}`;

export const probeBody = ({ id: _, gateway: __, ...body }: DescribedProbe) => body;

/** Of a form for one part of what the lab enters for a probe. */
export interface ProbeFormProps {
  readonly probe: DescribedProbe;
  /** Of the lab that the probe was read with. */
  readonly version: number;
  readonly onSaved: (before: DescribedProbe) => void;
  readonly onCancel: () => void;
}
