// The peer of the ingest bench: a subscriber that does nothing with what it gets. Prints a line when it is connected and
// one for every so many messages. Arguments: address of the broker, topic filter, number of messages.

import { connect } from 'mqtt';

const [url = '', filter = '', messages = '0'] = process.argv.slice(2);
const client = connect(url, {
  clientId: 'bare',
  protocolVersion: 5,
  clean: false,
  properties: { sessionExpiryInterval: 3600, receiveMaximum: 1000 },
});
let taken = 0;
client.on('message', () => {
  taken += 1;
  if (taken % Number(messages) === 0) process.stdout.write('taken\n');
});
await client.subscribeAsync(filter, { qos: 1 });
process.stdout.write('stands\n');
