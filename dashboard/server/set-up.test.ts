import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Browser, ServerForTests } from '../../tests/server-for-tests.ts';
import { serverForTests } from '../../tests/server-for-tests.ts';

describe('set-up over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
  });
  afterEach(() => test.close());

  it('gives a probe that was seen to a new station, and shows the figures of its wax', async () => {
    await test.lab.measure('fresh', 71);
    const pot = { name: 'Dip pot', kind: 'dip-pot', wax: 'inlay-dip' };
    const station = await manager.send('PUT', '/api/stations/dip-1', pot);
    expect(station.json()).toMatchObject({
      id: 'dip-1',
      name: 'Dip pot',
      wax: { id: 'inlay-dip' },
      probes: [],
    });
    expect(station.json().ceiling.source.text).not.toBe('');
    const probe = await manager.send('PUT', '/api/probes/fresh', {
      station: 'dip-1',
      correction_celsius: -0.4,
    });
    expect(probe.json()).toMatchObject({ id: 'fresh', station: 'dip-1', claimed: true, celsius: 71 });
    expect((await manager.send('GET', '/api/stations/dip-1')).json().probes).toEqual(['fresh']);
  });

  it('shows which window and ceiling a kind with a wax would have, before the station is there', async () => {
    const pot = (await manager.send('GET', '/api/wax-classes/inlay-type-2/limits?kind=melt-pot')).json();
    expect(pot.ceiling.source.text).not.toBe('');
    expect(pot.windowLow.value).toBeLessThan(pot.windowHigh.value);
    const shelf = (await manager.send('GET', '/api/wax-classes/inlay-type-2/limits?kind=shelf')).json();
    expect(shelf).toMatchObject({ windowLow: null, ceiling: null });
    await manager.send('PUT', '/api/wax-classes/inlay-type-2/overrides', {
      values: { ceiling: pot.ceiling.value - 1 },
    });
    const own = (await manager.send('GET', '/api/wax-classes/inlay-type-2/limits?kind=melt-pot')).json();
    expect(own.ceiling).toMatchObject({ value: pot.ceiling.value - 1, standing: "lab's own" });
  });

  it('keeps the calibration of a probe, and refuses one whose points give no slope', async () => {
    const calibration = {
      day: '2031-02-03',
      points: [
        { reading_celsius: 0, reference_celsius: 0.2 },
        { reading_celsius: 60, reference_celsius: 60.3 },
      ],
      reference_uncertainty_celsius: 0.1,
    };
    const saved = await manager.send('PUT', '/api/probes/pot-1-a', { station: 'pot-1', calibration });
    expect(saved.statusCode).toBe(200);
    expect((await manager.send('GET', '/api/lab')).json().probes[0]).toMatchObject({ calibration });
    const near = { ...calibration, points: [calibration.points[0], calibration.points[0]] };
    const refused = await manager.send('PUT', '/api/probes/pot-1-a', { station: 'pot-1', calibration: near });
    expect(refused.json()).toMatchObject({ status: 409, code: 'lab-contradiction' });
  });

  it('shows the manager where gateways publish to, and nobody else', async () => {
    expect((await manager.send('GET', '/api/broker-endpoint')).json()).toMatchObject({
      own: true,
      port: 1883,
    });
    expect((await test.browser().send('GET', '/api/broker-endpoint')).statusCode).toBe(401);
  });

  it.each([
    ['a probe of no station', '/api/probes/pot-1-a', { station: 'nowhere' }, 409, 'lab-contradiction'],
    ['a probe that was never seen', '/api/probes/ghost', { station: 'pot-1' }, 404, 'unknown-probe'],
    [
      'a window upside down',
      '/api/stations/pot-1',
      { name: 'P', kind: 'melt-pot', window_celsius: [80, 70] },
      409,
      'lab-contradiction',
    ],
    [
      'a ceiling above that of the wax',
      '/api/stations/pot-1',
      { name: 'P', kind: 'melt-pot', wax: 'inlay-type-2', ceiling_celsius: 149 },
      409,
      'lab-contradiction',
    ],
    [
      'a ceiling where a heater must be off',
      '/api/stations/pot-1',
      { name: 'P', kind: 'melt-pot', ceiling_celsius: 151 },
      400,
      'wrong-request',
    ],
    ['an unknown kind', '/api/stations/pot-1', { name: 'P', kind: 'oven' }, 400, 'wrong-request'],
    [
      'an unknown field',
      '/api/stations/pot-1',
      { name: 'P', kind: 'shelf', colour: 'red' },
      400,
      'wrong-request',
    ],
    [
      'an unknown rule',
      '/api/stations/pot-1',
      { name: 'P', kind: 'melt-pot', rules: { 'over-celing': { on_delay_seconds: 1 } } },
      409,
      'lab-contradiction',
    ],
    [
      'a rule’s figure out of bounds',
      '/api/stations/pot-1',
      { name: 'P', kind: 'melt-pot', rules: { 'over-ceiling': { on_delay_seconds: -1 } } },
      409,
      'lab-contradiction',
    ],
    [
      'a protecting rule switched off',
      '/api/stations/pot-1',
      { name: 'P', kind: 'melt-pot', rules: { 'over-ceiling': { enabled: false } } },
      409,
      'lab-contradiction',
    ],
    ['an id that fits no topic', '/api/stations/a%20b', { name: 'P', kind: 'shelf' }, 400, 'wrong-request'],
    ['an unknown time zone', '/api/site', { name: 'Lab', timeZone: 'Europe/Nowhere' }, 400, 'wrong-request'],
    [
      'hours that overlap',
      '/api/site',
      { name: 'Lab', timeZone: 'Europe/Berlin', workingHours: { mon: ['08:00-12:00', '11:00-17:00'] } },
      409,
      'lab-contradiction',
    ],
    ['an unknown wax', '/api/wax-classes/chocolate/overrides', { values: {} }, 404, 'unknown-wax-class'],
    [
      'an unknown value of a wax',
      '/api/wax-classes/sticky/overrides',
      { values: { ceilling: 90 } },
      409,
      'lab-contradiction',
    ],
    [
      'values of a wax that contradict each other',
      '/api/wax-classes/sticky/overrides',
      { values: { ceiling: 1 } },
      409,
      'lab-contradiction',
    ],
  ])('refuses %s, names the place and changes nothing', async (_what, url, body, status, code) => {
    const before = test.lab.running.lab();
    const answer = await manager.send('PUT', url, body);
    expect(answer.json()).toMatchObject({ status, code });
    expect(answer.json().detail.length).toBeGreaterThan(10);
    expect(test.lab.running.lab()).toEqual(before);
  });

  it('shows a value of its own as the lab’s own wherever it counts', async () => {
    const ceiling = (await manager.send('GET', '/api/stations/pot-1')).json().ceiling.value;
    const own = { values: { ceiling: ceiling - 1 }, reason: 'smoked at the table value' };
    const saved = await manager.send('PUT', '/api/wax-classes/inlay-type-2/overrides', own);
    expect(saved.json().figures.ceiling).toMatchObject({ value: ceiling - 1, standing: "lab's own" });
    expect((await manager.send('GET', '/api/stations/pot-1')).json().ceiling).toMatchObject({
      value: ceiling - 1,
      standing: "lab's own",
    });
    await manager.send('PUT', '/api/wax-classes/inlay-type-2/overrides', { values: {} });
    expect((await manager.send('GET', '/api/stations/pot-1')).json().ceiling.value).toBe(ceiling);
  });

  it('keeps a station while patterns lie there, and lets go of its probes when it is removed', async () => {
    const pattern = {
      caseReference: 'A 12',
      wax: 'inlay-type-2',
      technique: 'layered',
      lengthMillimetres: 30,
      toleranceMicrometres: 50,
    };
    const { id } = (await manager.send('POST', '/api/patterns', { ...pattern, station: 'shelf-1' })).json();
    expect((await manager.send('DELETE', '/api/stations/shelf-1')).json()).toMatchObject({
      status: 409,
      code: 'station-in-use',
    });
    await manager.send('POST', `/api/patterns/${id}/end`, { fate: 'invested', reason: 'fits' });
    expect((await manager.send('DELETE', '/api/stations/shelf-1')).statusCode).toBe(200);
    expect((await manager.send('DELETE', '/api/stations/pot-1')).statusCode).toBe(200);
    expect((await manager.send('GET', '/api/probes')).json()).toMatchObject([
      { id: 'pot-1-a', claimed: false },
    ]);
  });

  it('writes the lab down as a file and takes it back, and names the line of what is wrong', async () => {
    const { yaml } = (await manager.send('GET', '/api/lab-file')).json();
    const renamed = yaml.replace('Melt pot 1', 'Big pot');
    expect((await manager.send('PUT', '/api/lab-file', { yaml: renamed, dryRun: true })).statusCode).toBe(
      200,
    );
    expect(test.lab.running.lab().stations[0]?.name).toBe('Melt pot 1');
    expect((await manager.send('PUT', '/api/lab-file', { yaml: renamed })).json()).toMatchObject({
      yaml: renamed,
    });
    expect(test.lab.running.lab().stations[0]?.name).toBe('Big pot');
    const wrong = await manager.send('PUT', '/api/lab-file', { yaml: renamed.replace('melt-pot', 'oven') });
    expect(wrong.statusCode).toBe(400);
    expect(wrong.json().errors[0].pointer).toMatch(/^line \d+, column \d+, stations\[0\]\.kind$/);
  });

  it('reads a lab file with older keys and answers where each is and what it is called now', async () => {
    const { yaml } = (await manager.send('GET', '/api/lab-file')).json();
    const older = yaml.replace('time_zone:', 'timeZone:');
    expect(older).not.toBe(yaml);
    const answer = (await manager.send('PUT', '/api/lab-file', { yaml: older, dryRun: true })).json();
    expect(answer.yaml).toBe(yaml);
    const line = older.split('\n').findIndex((text: string) => text.includes('timeZone:')) + 1;
    expect(answer.oldSpellings).toMatchObject([{ line, oldKey: 'timeZone', newKey: 'time_zone' }]);
  });

  it('takes no roles from a lab file', async () => {
    const { yaml } = (await manager.send('GET', '/api/lab-file')).json();
    const raised = `${yaml.split(/^people:/m)[0]}people:\n  - { id: eve, name: Eve, role: manager }\n`;
    await manager.send('PUT', '/api/lab-file', { yaml: raised });
    expect(test.lab.running.lab().people.map(({ id }) => id)).toEqual(['mara']);
  });
});
