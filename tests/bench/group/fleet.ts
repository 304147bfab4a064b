// The labs of the group bench in a process of their own. Arguments: address of the broker, number of labs, what they
// give, how many times faster than the clock their time runs. Messages: 'ready' when all are connected; for
// { raise } a lab raises an alarm; for 'stop' the labs end and the minutes that the broker acknowledged are answered.

import { epochMillis } from '../../../wax/units.ts';
import { until } from '../../integration/until.ts';
import { startSimulatedLab } from './simulated-lab.ts';

const [url = '', labs = '0', detail = 'minutes', speed = '1'] = process.argv.slice(2);
const startedAt = Date.now();
const now = () => epochMillis(startedAt + (Date.now() - startedAt) * Number(speed));
const fleet = Array.from({ length: Number(labs) }, (_, index) =>
  startSimulatedLab(`lab-${index}`, url, detail === 'readings' ? 'readings' : 'minutes', now),
);

process.on('message', (message: 'stop' | { readonly raise: string; readonly lab: number }) => {
  if (message !== 'stop') fleet[message.lab]?.raise(message.raise);
  else void stop();
});
process.once('disconnect', () => process.exit(0));
async function stop(): Promise<void> {
  const waiting = fleet.reduce((sum, lab) => sum + lab.waitingMinutes(), 0);
  await Promise.all(fleet.map((lab) => lab.stop()));
  const delivered = fleet.reduce((sum, lab) => sum + lab.deliveredMinutes(), 0);
  process.send?.({
    delivered,
    waiting,
    cpuSeconds: process.cpuUsage().user / 1e6 + process.cpuUsage().system / 1e6,
  });
  process.disconnect();
  process.exit(0);
}
await until(() => fleet.every((lab) => lab.isConnected()));
process.send?.('ready');
