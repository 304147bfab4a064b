// Pairing of gateways with the embedded broker: a code for a manager, an account for the gateway that shows it.

import type { FastifyRequest } from 'fastify';
import { Type } from 'typebox';
import { gatewayId } from '../../../../collector/decode/identifier.ts';
import { OUR_LEVELS } from '../../../../collector/decode/decode-message.ts';
import {
  GatewayView,
  PairBody,
  PairingCodeBody,
  PairingCodeView,
  PairingView,
} from '../../../api/gateways.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { throttleAttempt } from '../../sign-in/attempt.ts';
import { openGatewayAccounts } from '../../sign-in/gateway-accounts.ts';
import { gatewayViews } from '../../views/gateway-view.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso } from '../../../../wax/iso.ts';

const refuseBadName = (gateway: string): void => {
  if (!gatewayId(gateway).ok) throw fieldProblem('/body/gateway', 'gateway-id-refused');
  if (OUR_LEVELS.has(gateway)) throw fieldProblem('/body/gateway', 'gateway-id-reserved');
};

export const gatewayRoutes = (app: App, { running, options, signIn, audit }: ServerContext): void => {
  const accounts = openGatewayAccounts(options.database, running.now);
  const publishAccounts = (): void => running.setGatewayAccounts?.(accounts.all());

  app.get(
    '/api/gateways',
    describeRoute('set-up-lab', 'set-up', 'Every gateway: paired with the own broker, of the lab, or seen', {
      description: 'With the sweeps that a gateway numbered and that have not arrived.',
      response: { 200: Type.Array(GatewayView) },
    }),
    () => gatewayViews(running, accounts.all()),
  );
  app.post(
    '/api/gateways',
    describeRoute('set-up-lab', 'set-up', 'Make a code by which a gateway is paired', {
      description:
        'The code serves once, within an hour. The gateway sends it to `POST /api/pair` and gets a user and a password ' +
        'of its own, with which it may write under its own name alone.',
      body: PairingCodeBody,
      response: { 200: PairingCodeView },
    }),
    (request) => {
      const { gateway } = request.body;
      refuseBadName(gateway);
      const { code, expiresAt } = accounts.invite(gateway);
      auditChange(audit, request, { action: 'pairing-code-made', subject: ['gateway', gateway] });
      return { gateway, code, expiresAt: iso(expiresAt) };
    },
  );
  app.delete(
    '/api/gateways/:id',
    describeRoute('set-up-lab', 'set-up', 'Take back the account of a gateway', {
      description: 'Its connection ends at once.',
      params: Type.Object({ id: Type.String({ maxLength: 64 }) }),
      response: { 200: Done },
    }),
    (request) => {
      const { id } = request.params;
      if (!accounts.remove(id)) throw new HttpProblem('unknown-gateway', { values: { id } });
      auditChange(audit, request, { action: 'gateway-unpaired', subject: ['gateway', id] });
      publishAccounts();
      return DONE;
    },
  );
  app.post(
    '/api/pair',
    describeRoute('nothing', 'set-up', 'Exchange a code for the account of a gateway', {
      description: 'The password is shown this once. A password that the gateway had before ends.',
      body: PairBody,
      response: { 200: PairingView },
    }),
    async (request) => {
      const { code } = request.body;
      const isOpen = async (): Promise<boolean> => accounts.invited(code) !== null;
      if (!(await throttleAttempt(signIn, request, 'pairing code', true, isOpen)))
        throw new HttpProblem('wrong-code');
      const paired = accounts.pair(code);
      if (paired === null) throw new HttpProblem('wrong-code');
      auditChange(audit, request, {
        action: 'gateway-paired',
        subject: ['gateway', paired.gateway],
        actor: `${paired.gateway} (MQTT)`,
      });
      publishAccounts();
      return pairingOf(request, paired);
    },
  );

  const pairingOf = (
    request: FastifyRequest,
    { gateway, password }: { readonly gateway: string; readonly password: string },
  ) => {
    const endpoint = running.brokerEndpoint?.() ?? { host: null, port: 1883, tls: false };
    const site = running.lab().site.id;
    return {
      site,
      gateway,
      user: gateway,
      password,

      host: endpoint.host ?? request.hostname,
      port: endpoint.port,
      tls: endpoint.tls,
      topic: `wax/${site}/${gateway}/`,
    };
  };
};
