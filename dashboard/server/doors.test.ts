// Who gets through which door: every operation of the interface by everybody who may knock, from the interface's own
// description, so that an operation without a row here fails.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type Caller,
  CALLERS,
  type CallersForTests,
  callersForTests,
  mayPass,
  operationName,
  STRANGERS,
} from '../../tests/callers-for-tests.ts';
import { operationsOf } from '../../tests/hostile-requests.ts';
import { serverForTests } from '../../tests/server-for-tests.ts';

const NEEDS: Readonly<Record<string, string>> = {
  'GET /api/health': 'nothing',
  'GET /api/stations': 'see-wall',
  'GET /api/stations/{id}': 'see-wall',
  'PUT /api/stations/{id}': 'set-up-lab',
  'DELETE /api/stations/{id}': 'set-up-lab',
  'GET /api/probes': 'read',
  'GET /api/broker-endpoint': 'set-up-lab',
  'POST /api/test-reading': 'set-up-lab',
  'GET /api/probes/{id}/history': 'read',
  'GET /api/probes/{id}/behaviour': 'read',
  'GET /api/probes/{id}/origin': 'read',
  'GET /api/stations/{id}/probes': 'see-wall',
  'GET /api/readings': 'see-wall',
  'GET /api/stations/{id}/readings': 'see-wall',
  'GET /api/patterns/{id}/readings': 'read',
  'GET /api/quarantine': 'read',
  'GET /api/live': 'see-wall',
  'GET /api/alarms': 'see-wall',
  'GET /api/alarms/{id}': 'see-wall',
  'POST /api/alarms/{id}/acknowledge': 'handle-alarms',
  'POST /api/alarms/{id}/reset': 'handle-alarms',
  'POST /api/alarms/{id}/shelve': 'handle-alarms',
  'POST /api/alarms/{id}/unshelve': 'handle-alarms',
  'POST /api/alarms/{id}/take-out-of-service': 'handle-alarms',
  'POST /api/alarms/{id}/return-to-service': 'handle-alarms',
  'POST /api/alarms/{id}/note': 'handle-alarms',
  'GET /api/alarm-quality': 'read',
  'GET /api/push/key': 'own-account',
  'GET /api/push/subscriptions': 'own-account',
  'POST /api/push/subscriptions': 'own-account',
  'DELETE /api/push/subscriptions': 'own-account',
  'POST /api/push/test': 'own-account',
  'POST /api/push/shown': 'own-account',
  'GET /api/notification-plan': 'read',
  'PUT /api/notification-plan': 'set-up-lab',
  'POST /api/notification-plan/test': 'set-up-lab',
  'GET /api/outbox': 'read',
  'POST /api/acknowledge-by-link': 'nothing',
  'GET /api/patterns': 'read',
  'POST /api/patterns': 'tend-patterns',
  'GET /api/patterns/{id}': 'read',
  'POST /api/patterns/{id}/move': 'tend-patterns',
  'POST /api/patterns/{id}/acts': 'tend-patterns',
  'POST /api/patterns/{id}/acts/undo': 'tend-patterns',
  'POST /api/patterns/{id}/erase-case': 'tend-patterns',
  'PUT /api/patterns/{id}/casting': 'tend-patterns',
  'GET /api/patterns/{id}/burnout': 'read',
  'GET /api/fit-proof': 'read',
  'POST /api/fit-proof/recalibrate': 'set-up-lab',
  'POST /api/patterns/{id}/end': 'tend-patterns',
  'POST /api/patterns/{id}/resume': 'tend-patterns',
  'GET /api/night': 'read',
  'GET /api/night.pdf': 'read',
  'GET /api/night.csv': 'read',
  'POST /api/night/{date}/note': 'tend-patterns',
  'POST /api/night/{date}/sign': 'tend-patterns',
  'GET /api/night-delivery': 'read-audit',
  'PUT /api/night-delivery': 'set-up-lab',
  'GET /api/month': 'read',
  'GET /api/month.csv': 'read',
  'GET /api/evidence': 'read-audit',
  'GET /api/evidence.pdf': 'read-audit',
  'GET /api/evidence.csv': 'read-audit',
  'POST /api/alarms/{id}/cause': 'handle-alarms',
  'GET /api/training': 'read',
  'POST /api/training': 'tend-stations',
  'POST /api/training/{number}/withdraw': 'tend-stations',
  'GET /api/charges': 'read',
  'GET /api/charges/{id}/curve': 'read',
  'PUT /api/charges/{id}/lot': 'tend-stations',
  'POST /api/stations/{id}/charge': 'tend-stations',
  'POST /api/stations/{id}/top-up': 'tend-stations',
  'POST /api/stations/{id}/take-back': 'tend-stations',
  'POST /api/stations/{id}/cleaned': 'tend-stations',
  'POST /api/stations/{id}/load-in': 'tend-stations',
  'POST /api/stations/{id}/load-out': 'tend-stations',
  'POST /api/stations/{id}/planned-off': 'tend-stations',
  'POST /api/stations/{id}/planned-on': 'tend-stations',
  'POST /api/stations/{id}/intents': 'tend-stations',
  'DELETE /api/stations/{id}/intents/{kind}': 'tend-stations',
  'GET /api/lots': 'read',
  'POST /api/lots': 'tend-stations',
  'GET /api/recall': 'read',
  'PUT /api/lots/{id}': 'tend-stations',
  'DELETE /api/lots/{id}': 'tend-stations',
  'PUT /api/lots/{id}/sheet': 'set-up-lab',
  'GET /api/lab': 'read',
  'GET /api/rules': 'read',
  'PUT /api/site': 'set-up-lab',
  'PUT /api/probes/{id}': 'set-up-lab',
  'DELETE /api/probes/{id}': 'set-up-lab',
  'POST /api/probes/{id}/replacement': 'set-up-lab',
  'DELETE /api/gateways/{id}/unclaimed-probes': 'set-up-lab',
  'GET /api/payload-mappings': 'set-up-lab',
  'PUT /api/payload-mappings/{id}': 'set-up-lab',
  'DELETE /api/payload-mappings/{id}': 'set-up-lab',
  'POST /api/payload-mapping-trials': 'set-up-lab',
  'POST /api/stations/{id}/trial': 'set-up-lab',
  'GET /api/wax-classes': 'read',
  'GET /api/wax-classes/{id}/limits': 'read',
  'PUT /api/wax-classes/{id}/overrides': 'set-up-lab',
  'GET /api/casting-materials': 'read',
  'PUT /api/casting-materials/{id}': 'set-up-lab',
  'DELETE /api/casting-materials/{id}': 'set-up-lab',
  'POST /api/wax-classes/{id}/bent-stick': 'set-up-lab',
  'GET /api/lab-file': 'set-up-lab',
  'PUT /api/lab-file': 'set-up-lab',
  'GET /api/stored-readings': 'set-up-lab',
  'POST /api/stored-readings/preview': 'set-up-lab',
  'PUT /api/stored-readings/retention': 'set-up-lab',
  'POST /api/stored-readings/send-again': 'set-up-lab',
  'GET /api/gateways': 'set-up-lab',
  'POST /api/gateways': 'set-up-lab',
  'DELETE /api/gateways/{id}': 'set-up-lab',
  'POST /api/pair': 'nothing',
  'GET /api/group-link': 'set-up-lab',
  'PUT /api/group-link': 'set-up-lab',
  'GET /api/connections': 'set-up-lab',
  'PUT /api/connections/mail': 'set-up-lab',
  'DELETE /api/connections/mail': 'set-up-lab',
  'PUT /api/connections/host-names': 'set-up-lab',
  'GET /api/group-offers': 'set-up-lab',
  'POST /api/group-offers/{id}/accept': 'set-up-lab',
  'POST /api/group-offers/{id}/decline': 'set-up-lab',
  'GET /api/session': 'nothing',
  'DELETE /api/session': 'nothing',
  'POST /api/session': 'nothing',
  'POST /api/session/confirm': 'own-account',
  'POST /api/join': 'nothing',
  'PUT /api/account': 'own-account',
  'PUT /api/account/password': 'own-account',
  'POST /api/account/second-factor': 'own-account',
  'PUT /api/account/second-factor': 'own-account',
  'POST /api/account/second-factor/off': 'own-account',
  'GET /api/account/sessions': 'own-account',
  'DELETE /api/account/sessions/{id}': 'own-account',
  'GET /api/people': 'manage-people',
  'POST /api/people': 'manage-people',
  'PUT /api/people/{id}': 'manage-people',
  'DELETE /api/people/{id}': 'manage-people',
  'POST /api/people/{id}/invite': 'manage-people',
  'DELETE /api/people/{id}/sessions': 'manage-people',
  'DELETE /api/people/{id}/second-factor': 'manage-people',
  'GET /api/tokens': 'manage-people',
  'POST /api/tokens': 'manage-people',
  'DELETE /api/tokens/{id}': 'manage-people',
  'GET /api/wall-links': 'manage-people',
  'POST /api/wall-links': 'manage-people',
  'DELETE /api/wall-links/{id}': 'manage-people',
  'GET /api/calendar-links': 'manage-people',
  'POST /api/calendar-links': 'manage-people',
  'DELETE /api/calendar-links/{id}': 'manage-people',
  'GET /api/calendar.ics': 'nothing',
  'GET /api/audit': 'read-audit',
  'GET /api/audit/verify': 'read-audit',
  'GET /metrics': 'read',
};

const refusalOf = (caller: Caller): string => {
  if (STRANGERS.includes(caller)) return 'sign-in-needed';
  return caller === 'a manager who left the desk' ? 'confirm-password' : 'not-allowed';
};
const REFUSALS: readonly string[] = CALLERS.map(refusalOf);
/** Nothing of the lab, in a language whose name is too long: whoever gets through is answered with little work. */
const ASKED = { id: 'nothing-of-the-lab', query: `?lang=${'x'.repeat(40)}` };

describe('the doors of the interface', () => {
  let lab: CallersForTests;
  beforeAll(async () => {
    lab = await callersForTests();
  });
  afterAll(() => lab.test.close());

  it('need the permissions that are listed here', () => {
    expect(Object.fromEntries(lab.operations.map((route) => [operationName(route), route.needs]))).toEqual(
      NEEDS,
    );
  });

  it.each(CALLERS)('let %s through where the roles allow it and nowhere else', async (caller) => {
    for (const operation of lab.askable) {
      const url = operation.path.replace(/\{\w+\}/g, ASKED.id) + ASKED.query;
      const answer = await lab.ask(
        caller,
        operation.method,
        url,
        operation.method === 'GET' ? undefined : {},
      );
      const code = answer.statusCode < 400 ? '' : answer.json<{ code: string }>().code;
      expect([operationName(operation), REFUSALS.includes(code) ? code : 'let through']).toEqual([
        operationName(operation),
        mayPass(caller, operation.needs) ? 'let through' : refusalOf(caller),
      ]);
    }
  });
});

describe('the doors of the demonstration', () => {
  /** The visitor sets nothing up, has no account and reads no audit trail. */
  const CLOSED: readonly string[] = ['set-up-lab', 'manage-people', 'read-audit', 'own-account'];

  it.each([
    ['a visitor on this machine', {}, 'not-allowed'],
    ['a visitor whom a proxy brings', { 'x-forwarded-for': '203.0.113.7' }, 'sign-in-needed'],
    ['a program whose token is no more', { authorization: 'Bearer wwt_gone' }, 'sign-in-needed'],
  ])('let %s through where the roles allow it and nowhere else', async (_who, headers, refusal) => {
    const test = await serverForTests({ demo: true });
    for (const operation of operationsOf(test.server.swagger())) {
      if (operationName(operation) === 'GET /api/live') continue;
      const { method } = operation;
      const answer = await test.server.inject({
        method,
        url: operation.path.replace(/\{\w+\}/g, ASKED.id) + ASKED.query,
        headers: { host: 'localhost:8080', ...headers },
        ...(method !== 'GET' && { payload: {} }),
      });
      const code = answer.statusCode < 400 ? '' : answer.json<{ code: string }>().code;
      const isOpen =
        operation.needs === 'nothing' || (refusal === 'not-allowed' && !CLOSED.includes(operation.needs));
      expect([operationName(operation), code === refusal ? code : 'let through']).toEqual([
        operationName(operation),
        isOpen ? 'let through' : refusal,
      ]);
    }
    await test.close();
  });
});
