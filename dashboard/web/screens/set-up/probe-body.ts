// A probe as it is saved: everything but the id, which names it, and its gateway, which comes from its messages alone. Pure.

import type { LabView } from '../../../api/lab-bodies.ts';

export type DescribedProbe = LabView['probes'][number];

/** As the lab describes the probe; one that it does not know yet has its id and gateway alone. */
export const describeProbe = (
  described: readonly DescribedProbe[],
  { id, gateway }: Pick<DescribedProbe, 'id' | 'gateway'>,
): DescribedProbe => described.find((probe) => probe.id === id) ?? { id, gateway };

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
