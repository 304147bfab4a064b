// The other probes of a busy lab while the alarm bench measures: so many readings a second, evenly spread, at QoS 1.
// Prints a line when it is connected; at the end of its input it prints how many it sent a second. Arguments: address of the
// broker, topic, messages a second, number of probes.

import { connectAsync } from 'mqtt';

const [url = '', topic = '', perSecond = '0', probes = '1'] = process.argv.slice(2);
const SLICE_MILLIS = 10;
const client = await connectAsync(url, { clientId: 'background' });
const start = performance.now();
let sent = 0;
const timer = setInterval(() => {
  const due = Math.floor(((performance.now() - start) / 1000) * Number(perSecond));
  for (; sent < due; sent += 1) {
    const pack = [
      { n: `calm-${sent % Number(probes)}`, u: 'Cel', v: 21 + (sent % 7) / 10, t: Date.now() / 1000 },
    ];
    client.publish(topic, JSON.stringify(pack), { qos: 1 });
  }
}, SLICE_MILLIS);
process.stdout.write('stands\n');
for await (const _ of process.stdin);
clearInterval(timer);
process.stdout.write(`rate ${sent / ((performance.now() - start) / 1000)}\n`);
await client.endAsync();
