// Where figures of rules are taken, and that those of the whole lab have their effect.

import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { labPlan } from '../../alerts/watch/engine/state/lab-plan.ts';
import { type Browser, type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

describe('figures of rules', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
  });
  afterEach(() => test.close());

  const site = () => {
    const { id: _, workingHours: _hours, ...rest } = test.lab.running.lab().site;
    return rest;
  };
  const saveForLab = (rules: object) => manager.send('PUT', '/api/site', { ...site(), rules });
  const saveForPot = (rules: object) => {
    const { id: _, ...station } = test.lab.running.lab().stations[0] ?? { id: '' };
    return manager.send('PUT', '/api/stations/pot-1', { ...station, rules });
  };
  const refusals = (answer: Awaited<ReturnType<typeof saveForPot>>) =>
    answer.json().errors.map(({ pointer, code }: { pointer: string; code: string }) => [pointer, code]);

  it('of a rule of gateways hold in the whole lab once they are saved with the site', async () => {
    expect((await saveForLab({ 'gateway-lost': { least_probes_count: 7 } })).statusCode).toBe(200);
    const planned = labPlan(test.lab.running.lab()).gatewayRules.find(
      ({ rule }) => rule.kind === 'gateway-lost',
    );
    expect(planned?.values.least_probes_count).toBe(7);
    expect((await manager.send('GET', '/api/lab')).json().site.rules).toEqual({
      'gateway-lost': { least_probes_count: 7 },
    });
  });

  it('of a rule of gateways are refused at a station, and those of a station for the whole lab', async () => {
    expect(refusals(await saveForPot({ 'gateway-lost': { least_probes_count: 7 } }))).toEqual([
      ['/stations/0/rules/gateway-lost', 'rule-without-effect'],
    ]);
    expect(refusals(await saveForLab({ 'left-on': { grace_minutes: 10 } }))).toEqual([
      ['/site/rules/left-on', 'rule-without-effect'],
    ]);
  });

  it('that can have no effect at a kind of station are refused there, each at its field', async () => {
    const rules = {
      'storage-warm': { offset_celsius_difference: 1 },
      'probe-out': { fall_celsius_difference: 9, on_delay_seconds: 30 },
    };
    expect(refusals(await saveForPot(rules))).toEqual([
      ['/stations/0/rules/storage-warm', 'rule-without-effect'],
      ['/stations/0/rules/probe-out/fall_celsius_difference', 'rule-figure-without-effect'],
    ]);
  });

  it('are offered with the kinds of station at which they count, or for the lab', async () => {
    const rules = (await manager.send('GET', '/api/rules')).json();
    const placesOf = (kind: string, figure: string) =>
      rules.find((rule: { kind: string }) => rule.kind === kind).parameters[figure].places;
    expect(placesOf('gateway-lost', 'least_probes_count')).toEqual(['lab']);
    expect(placesOf('probe-out', 'fall_celsius_difference')).toEqual(['water-bath']);
    expect(placesOf('probe-disagrees', 'limit_celsius_difference')).not.toContain('annealer');
  });

  it('are not tried at a station where the rule has no effect', async () => {
    const answer = await manager.send('POST', '/api/stations/pot-1/trial', {
      rule: 'gateway-lost',
      values: { least_probes_count: 3 },
    });
    expect(refusals(answer)).toEqual([['/body/rule', 'rule-without-effect']]);
  });
});
