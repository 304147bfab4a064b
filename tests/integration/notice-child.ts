// A process to be killed: sends what an earlier one left, raises the alarm that it is given, prints a line when it is
// committed, and sends it.

import { epochMillis } from '../../wax/units.ts';
import { deskForTests } from '../notice-desk-for-tests.ts';

const [folder = '', webhook = '', subject = ''] = process.argv.slice(2);
const { change, desk } = deskForTests({
  folder,
  webhook,
  mail: null,
  now: () => epochMillis(Date.now()),
  after: (millis, work) => {
    const timer = setTimeout(work, millis);
    return () => clearTimeout(timer);
  },
});
await desk.runDue();
if (subject !== '') change(subject, 'raised');
console.log('committed');
await desk.runDue();
console.log('sent');
