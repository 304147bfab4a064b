// Starts the built demonstration for a script that looks at it, on ports of its own; `leave` ends it.

import { spawn } from 'node:child_process';
import { setTimeout as delay } from 'node:timers/promises';
import { ensureBuilt, ensureInstalled, root } from './ready.mjs';

const AGAIN_MILLIS = 500;

/** Asked in a page: whether something of it is still being fetched or worked out. */
export const isStillLoading = `[...document.querySelectorAll('[role=status]')].some((each) => each.textContent.endsWith('…'))`;

export const until = async (look) => {
  for (;;) {
    const seen = await look();
    if (seen) return seen;
    await delay(AGAIN_MILLIS);
  }
};

/** Resolves once the demonstration's pot is announced to head over its ceiling. */
export const startDemonstration = async () => {
  ensureInstalled();
  await ensureBuilt();
  const demo = spawn(
    process.execPath,
    [
      '--disable-warning=ExperimentalWarning',
      'dist/cli/main.js',
      '--demo',
      ...['--port', '0', '--broker', 'embedded:0'],
    ],
    { cwd: root, stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const leave = () => demo.kill('SIGTERM');
  let printed = '';
  demo.stdout.on('data', (chunk) => {
    printed += chunk;
  });
  const ended = new Promise((_, reject) => {
    demo.once('exit', (status) => reject(new Error(`The demonstration ended with status ${status}.`)));
  });
  ended.catch(() => undefined);
  const address = await Promise.race([until(() => /Open (http:\S+[^/\s])/.exec(printed)?.[1]), ended]);
  const isHeadingOver = async () => {
    const alarms = await (await fetch(`${address}/api/alarms`)).json();
    return alarms.some(({ rule, active }) => rule === 'heading-over' && active);
  };
  await Promise.race([until(isHeadingOver), ended]);
  return { address, leave };
};

/** The cookie of one of the demonstration's people, by role. */
export const signInToDemonstration = async (address, role) => {
  const { demoPeople } = await (await fetch(`${address}/api/session`)).json();
  const person = demoPeople.find((each) => each.role === role).id;
  const answer = await fetch(`${address}/api/session/demo`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: address },
    body: JSON.stringify({ person }),
  });
  const [name, value] = (answer.headers.getSetCookie()[0] ?? '').split(';')[0].split('=');
  return { name, value, url: address };
};
