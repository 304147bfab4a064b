// The names by which browsers may reach the lab now: those that the program was started with, then those set since.

import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerOptions } from '../context/server-context.ts';

export const hostNamesNow = (
  running: Pick<RunningLab, 'connections'>,
  options: Pick<ServerOptions, 'hostNames'>,
): readonly string[] => [...(options.hostNames ?? []), ...running.connections.setting().hostNames];
