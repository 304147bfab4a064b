// A web server over a lab for tests, with people in it and a browser's manners: cookies and an origin.

import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify';
import { buildServer } from '../dashboard/server/build-server.ts';
import type { ServerOptions } from '../dashboard/server/context/server-context.ts';
import { firstPersonCode } from '../dashboard/server/sign-in/sign-in.ts';
import { type LabForTests, labForTests } from './lab-for-tests.ts';

export const PASSWORDS = {
  manager: 'amber kettle sings at noon',
  technician: 'seven blue spatulas',
  viewer: 'quiet shelf by the window',
} as const;
type TestRole = keyof typeof PASSWORDS;

export interface Browser {
  cookie: string;
  readonly send: (
    method: 'GET' | 'POST' | 'PUT' | 'DELETE',
    url: string,
    body?: object,
    headers?: Record<string, string>,
  ) => Promise<LightMyRequestResponse>;
}

export interface ServerForTests {
  readonly lab: LabForTests;
  readonly server: FastifyInstance;
  readonly browser: () => Browser;
  /** Makes the first manager by the code of the console; returns a signed-in browser. */
  readonly manager: () => Promise<Browser>;
  readonly person: (manager: Browser, role: TestRole, name: string) => Promise<Browser>;
  readonly close: () => Promise<void>;
}

export const serverForTests = async (
  options: Partial<ServerOptions> & NonNullable<Parameters<typeof labForTests>[0]> = {},
): Promise<ServerForTests> => {
  const { demo = false, pushHosts = [], pushAgent, openStore, ...given } = options;
  const lab = labForTests({
    demo,
    pushHosts,
    ...(pushAgent !== undefined && { pushAgent }),
    ...(openStore !== undefined && { openStore }),
  });
  const server = buildServer(lab.running, {
    webRoot: null,
    database: lab.database,
    loopback: true,
    // Tests of sign-in are about its rules; the real cost is measured where the hash itself is tested.
    passwordCost: { logN: 4, r: 1, p: 1 },
    alarmWords: (alarm) => ({ message: alarm.rule, meaning: '', action: '', caution: '' }),
    ...given,
  });
  await server.ready();
  const browser = (): Browser => {
    const visitor: Browser = {
      cookie: '',
      send: async (method, url, body, headers = {}) => {
        const request: InjectOptions = {
          method,
          url,
          headers: {
            host: 'localhost:8080',
            origin: 'http://localhost:8080',
            'sec-fetch-site': 'same-origin',
            ...(visitor.cookie === '' ? {} : { cookie: visitor.cookie }),
            ...headers,
          },
          ...(body === undefined ? {} : { payload: body }),
        };
        const answer = await server.inject(request);
        for (const { name, value } of answer.cookies) if (value !== '') visitor.cookie = `${name}=${value}`;
        return answer;
      },
    };
    return visitor;
  };
  return {
    lab,
    server,
    browser,
    manager: async () => {
      const visitor = browser();
      const code = firstPersonCode(lab.running, lab.database);
      await visitor.send('POST', '/api/join', { code, name: 'Mara', password: PASSWORDS.manager });
      return visitor;
    },
    person: async (manager, role, name) => {
      const { code } = (await manager.send('POST', '/api/people', { name, role })).json<{ code: string }>();
      const visitor = browser();
      await visitor.send('POST', '/api/join', { code, password: PASSWORDS[role] });
      return visitor;
    },
    close: async () => {
      await server.close();
      await lab.close();
    },
  };
};
