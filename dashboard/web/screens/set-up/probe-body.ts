// A probe as it is saved: everything but the id, which names it, and its gateway, which only the wire knows.

import type { LabView } from '../../../api/lab-bodies.ts';

export type DescribedProbe = LabView['probes'][number];

export const probeBody = ({ id: _, gateway: __, ...body }: DescribedProbe) => body;
