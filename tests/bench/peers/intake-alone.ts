// Intake of the built product without anything behind it: messages decoded, journalled and acknowledged. Prints a
// line when it is connected and one for every so many messages. Arguments: address of the broker, site, number of messages,
// folder of the journal.

import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [url = '', site = '', messages = '0', journalFolder = ''] = process.argv.slice(2);
// The thread is only in what was built for use, not in what was built for the benches.
const built = pathToFileURL(resolve('dist/collector/intake/start-intake.js')).href;
const { startIntake }: typeof import('../../../collector/intake/start-intake.ts') = await import(built);
const intake = await startIntake({ site, journalFolder, broker: { kind: 'external', url } });
let reported = 0;
intake.onJournal(() => {
  for (; reported < Math.floor(intake.counts().acknowledged / Number(messages)); reported += 1)
    process.stdout.write('taken\n');
});
intake.onStatus(({ broker }) => {
  if (broker.state === 'connected' && !broker.isCatchingUp) process.stdout.write('stands\n');
});
