// The same form is open twice, before two managers or one: what is saved in one is not taken back, unseen, in the other.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Browser, type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

describe('a change of what was changed elsewhere since it was read', () => {
  let test: ServerForTests;
  let mara: Browser;
  let tom: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    mara = await test.manager();
    tom = await test.person(mara, 'manager', 'Tom');
  });
  afterEach(() => test.close());

  const readBy = async (browser: Browser, path = '/api/lab') =>
    (await browser.send('GET', path)).json<Record<string, unknown> & { version: number }>();
  const asRead = (version: number) => ({ 'if-match': `"${version}"` });
  const potOf = (lab: Record<string, unknown>): Record<string, unknown> => {
    const { id: _, ...pot } = (lab.stations as { id: string }[]).find(({ id }) => id === 'pot-1') ?? {
      id: '',
    };
    return pot;
  };
  const savePot = (browser: Browser, pot: Record<string, unknown>, version?: number) =>
    browser.send('PUT', '/api/stations/pot-1', pot, version === undefined ? {} : asRead(version));
  const pot = () => test.lab.running.lab().stations.find(({ id }) => id === 'pot-1');

  it('is refused with who changed what, and changes nothing', async () => {
    const lab = await readBy(tom);
    const before = potOf(lab);
    expect((await savePot(mara, { ...before, ceiling_celsius: 81 })).statusCode).toBe(200);
    const refused = await savePot(tom, { ...before, name: 'Pot of Tom' }, lab.version);
    expect(refused.json()).toMatchObject({
      status: 409,
      code: 'changed-meanwhile',
      values: { name: 'Mara' },
      errors: [{ pointer: '/body/ceiling_celsius' }],
    });
    expect(refused.json().detail).toMatch(/Mara changed this at Mon\s3\sMar,\s09:00, after it was read\./);
    expect(pot()).toMatchObject({ ceiling_celsius: 81, name: before.name });
  });

  it('is taken where it leaves as it is what the other one saved', async () => {
    const { version, ...lab } = await readBy(tom);
    await savePot(mara, { ...potOf(lab), rules: { 'left-on': { enabled: false } } });
    const merged = { ...potOf(await readBy(tom)), name: 'Pot of Tom' };
    expect((await savePot(tom, merged, version)).statusCode).toBe(200);
    expect(pot()).toMatchObject({ name: 'Pot of Tom', rules: { 'left-on': { enabled: false } } });
  });

  it('is refused for another figure of a rule of the same station, read before', async () => {
    const { version, ...lab } = await readBy(tom);
    const [first, second] = [{ 'left-on': { enabled: false } }, { 'soak-incomplete': { enabled: false } }];
    await savePot(mara, { ...potOf(lab), rules: first });
    expect((await savePot(tom, { ...potOf(lab), rules: second }, version)).statusCode).toBe(409);
    expect(pot()?.rules).toEqual(first);
  });

  it('is taken of a page that changes its own anew, and of a program that does not say what it read', async () => {
    const { version, ...lab } = await readBy(tom);
    const warmer = { ...potOf(lab), ceiling_celsius: 81 };
    const { changes } = (await savePot(tom, warmer, version)).headers;
    const read = { 'if-match': `"${version}", "${changes}"` };
    expect((await tom.send('PUT', '/api/stations/pot-1', potOf(lab), read)).statusCode).toBe(200);
    expect((await savePot(mara, warmer)).statusCode).toBe(200);
  });

  it('is refused on another page of the same person, with when they changed it', async () => {
    const { version, ...lab } = await readBy(tom);
    await savePot(tom, { ...potOf(lab), ceiling_celsius: 81 }, version);
    const refused = await savePot(tom, { ...potOf(lab), name: 'Pot of Tom' }, version);
    expect(refused.json()).toMatchObject({ code: 'changed-meanwhile', values: { whose: 'own' } });
    expect(refused.json().detail).toMatch(/You changed this in another window at Mon\s3\sMar,\s09:00/);
    expect(pot()).toMatchObject({ ceiling_celsius: 81, name: potOf(lab).name });
  });

  it('gives no number to a change that failed', async () => {
    const { version, ...lab } = await readBy(tom);
    const refused = await savePot(tom, { ...potOf(lab), wax: 'no-wax' }, version);
    expect(refused.statusCode).toBeGreaterThanOrEqual(400);
    expect(refused.headers.changes).toBeUndefined();
  });

  it('is refused for a station that was removed since', async () => {
    const { version, ...lab } = await readBy(tom);
    expect((await mara.send('DELETE', '/api/stations/pot-1')).statusCode).toBe(200);
    expect((await savePot(tom, potOf(lab), version)).json().code).toBe('changed-meanwhile');
    expect(pot()).toBeUndefined();
  });

  it('is refused for anything after a lab file was taken that changed it', async () => {
    const { version, ...lab } = await readBy(tom);
    const { yaml } = (await mara.send('GET', '/api/lab-file')).json<{ yaml: string }>();
    await mara.send('PUT', '/api/lab-file', { yaml: yaml.replace(/name: .*/, 'name: Lab of Mara') });
    const site = { ...(lab.site as Record<string, unknown>), name: 'Lab of Tom' } as Record<string, unknown>;
    delete site.id;
    expect((await tom.send('PUT', '/api/site', site, asRead(version))).json().code).toBe('changed-meanwhile');
    expect(test.lab.running.lab().site.name).toBe('Lab of Mara');
  });

  it('is refused for a lab file that was compared before', async () => {
    const { yaml } = (await tom.send('GET', '/api/lab-file')).json<{ yaml: string }>();
    const { version, ...lab } = await readBy(tom);
    const dryRun = (await tom.send('PUT', '/api/lab-file', { yaml, dryRun: true })).json();
    expect(dryRun.version).toBe(version);
    await savePot(mara, { ...potOf(lab), ceiling_celsius: 81 });
    const renamed = { yaml: yaml.replace(/name: .*/, 'name: Lab of Tom') };
    const refused = await tom.send('PUT', '/api/lab-file', renamed, asRead(version));
    expect(refused.json()).toMatchObject({ code: 'changed-meanwhile', values: { name: 'Mara' } });
    expect(pot()?.ceiling_celsius).toBe(81);
    expect((await tom.send('PUT', '/api/lab-file', renamed, asRead(version + 1))).statusCode).toBe(200);
  });

  it('is refused for the notification plan, and the plan of the first one holds', async () => {
    const { version } = await readBy(tom, '/api/notification-plan');
    const given = { ...((await readBy(mara, '/api/notification-plan')) as { plan?: object }).plan };
    expect(
      (await mara.send('PUT', '/api/notification-plan', { ...given, lampTopics: ['lamp/a'] })).statusCode,
    ).toBe(200);
    const refused = await tom.send(
      'PUT',
      '/api/notification-plan',
      { ...given, lampTopics: ['lamp/b'] },
      asRead(version),
    );
    expect(refused.json()).toMatchObject({
      status: 409,
      code: 'changed-meanwhile',
      values: { name: 'Mara' },
    });
    expect((await readBy(tom, '/api/notification-plan')).plan).toMatchObject({ lampTopics: ['lamp/a'] });
  });

  const saveWax = (browser: Browser, values: Readonly<Record<string, number>>, version?: number) => {
    const headers = version === undefined ? {} : asRead(version);
    return browser.send('PUT', '/api/wax-classes/inlay-type-2/overrides', { values }, headers);
  };
  const ownValues = () => test.lab.running.lab().waxOverrides['inlay-type-2'];

  it('is refused for a value of a wax, and taken for another value of it', async () => {
    const { version } = await readBy(tom);
    await saveWax(mara, { ceiling: 91 });
    expect((await saveWax(tom, { ceiling: 92 }, version)).json()).toMatchObject({
      status: 409,
      code: 'changed-meanwhile',
      values: { name: 'Mara' },
      errors: [{ pointer: '/body/ceiling' }],
    });
    expect((await saveWax(tom, { ceiling: 91, 'transition.high': 44.5 }, version)).statusCode).toBe(200);
    expect(ownValues()).toEqual({ ceiling: 91, 'transition.high': 44.5 });
  });

  it('is refused for an undo that would take back what somebody else saved after what is undone', async () => {
    const { version } = await readBy(tom);
    const { changes } = (await saveWax(tom, { ceiling: 91 }, version)).headers;
    await saveWax(mara, { ceiling: 91, 'transition.high': 44.5 });
    const own = { 'if-match': `"${version}", "${changes}"` };
    const undo = await tom.send('PUT', '/api/wax-classes/inlay-type-2/overrides', { values: {} }, own);
    expect(undo.json()).toMatchObject({ code: 'changed-meanwhile', values: { name: 'Mara' } });
    expect(ownValues()).toEqual({ ceiling: 91, 'transition.high': 44.5 });
  });

  it('is refused for both probes after one took the place of the other', async () => {
    await test.lab.measure('spare', 21);
    const lab = await readBy(tom);
    const replaced = await mara.send('POST', '/api/probes/pot-1-a/replacement', { by: 'spare' });
    expect(replaced.statusCode).toBe(200);
    const saveProbe = (id: string, body: object) =>
      tom.send('PUT', `/api/probes/${id}`, body, asRead(lab.version));
    expect((await saveProbe('spare', {})).json().code).toBe('changed-meanwhile');
    expect((await saveProbe('pot-1-a', { station: 'pot-1' })).json().code).toBe('changed-meanwhile');
    const probes = test.lab.running.lab().probes.filter(({ station }) => station === 'pot-1');
    expect(probes.map(({ id }) => id)).toEqual(['spare']);
  });

  it('is refused for the removal of a station that somebody else has changed', async () => {
    const { version, ...lab } = await readBy(tom);
    await savePot(mara, { ...potOf(lab), ceiling_celsius: 81 });
    const remove = (since: number) => tom.send('DELETE', '/api/stations/pot-1', undefined, asRead(since));
    expect((await remove(version)).json().code).toBe('changed-meanwhile');
    expect((await remove(version + 1)).statusCode).toBe(200);
  });

  const MAIL = { host: 'mail.lab.example', port: 25, security: 'none', user: '', from: 'wax@lab.example' };
  const LINK = {
    isOn: false,
    url: '',
    user: '',
    authority: '',
    detail: 'minutes',
    givesCaseReferences: false,
    givesNames: false,
  };
  const MAPPING = {
    isOn: false,
    topic: 'bench/+/state',
    gateway: 'bench',
    probe: '{1}',
    value: '/t',
    unit: 'Cel',
  };
  const ALLOY = { kind: 'alloy', name: 'Gold', shrinkage: { percent: 1.48, uncertainty_percent: 0.1 } };
  const NIGHT = { time: 'off', recipients: [], paper: 'a4' };
  const days = (readingsDays: number) => ({ kinds: [{ kind: 'melt-pot', readingsDays, hoursDays: 400 }] });

  it.each([
    ['an alloy', '/api/casting-materials', '/gold', ALLOY, { ...ALLOY, name: 'Gold of Tom' }],
    ['a mapping that both begin', '/api/payload-mappings', '/a', MAPPING, { ...MAPPING, value: '/c' }],
    ['the mail server', '/api/connections', '/mail', MAIL, { ...MAIL, host: 'other.example' }],
    ['the host names', '/api/connections', '/host-names', { hostNames: ['a.lab'] }, { hostNames: ['b.lab'] }],
    ['the e-mailed night sheet', '/api/night-delivery', '', { ...NIGHT, time: '07:00' }, NIGHT],
    ['the link to the group', '/api/group-link', '', { ...LINK, user: 'north' }, { ...LINK, user: 'south' }],
    ['the days that readings stay', '/api/stored-readings', '/retention', days(100), days(50)],
  ])('is refused for %s, which stays as the first one saved it', async (_, read, place, first, second) => {
    const { etag = '' } = (await tom.send('GET', read)).headers;
    const before = (await tom.send('GET', read)).json();
    expect((await mara.send('PUT', read + place, first)).statusCode).toBe(200);
    const saved = (await mara.send('GET', read)).json();
    expect(saved).not.toEqual(before);
    const refused = await tom.send('PUT', read + place, second, { 'if-match': etag });
    expect(refused.json()).toMatchObject({
      status: 409,
      code: 'changed-meanwhile',
      values: { name: 'Mara' },
    });
    expect((await mara.send('GET', read)).json()).toEqual(saved);
    const newer = (await tom.send('GET', read)).headers.etag ?? '';
    expect((await tom.send('PUT', read + place, second, { 'if-match': newer })).statusCode).toBe(200);
  });

  it('is refused for a password of the mail server alone, and taken for the sender beside a new password', async () => {
    const own = { ...MAIL, user: 'waxlab' };
    await mara.send('PUT', '/api/connections/mail', { ...own, password: 'before' });
    const { etag = '' } = (await tom.send('GET', '/api/connections')).headers;
    await mara.send('PUT', '/api/connections/mail', { ...own, password: 'of Mara' });
    const save = (body: object) =>
      tom.send('PUT', '/api/connections/mail', { ...own, ...body }, { 'if-match': etag });
    expect((await save({ password: 'of Tom' })).json()).toMatchObject({ code: 'changed-meanwhile' });
    expect((await save({ from: 'alarms@lab.example' })).statusCode).toBe(200);
    expect(test.lab.running.connections.setting().mail).toMatchObject({
      password: 'of Mara',
      from: 'alarms@lab.example',
    });
  });

  it("is refused for a value of a lot's sheet, and for the removal of the lot", async () => {
    const pack = { wax: 'inlay-type-2', maker: 'Bench wax', lot: 'X-1', expiresOn: null };
    const { id } = (await mara.send('POST', '/api/lots', pack)).json();
    const { etag = '' } = (await tom.send('GET', `/api/recall?lot=${id}`)).headers;
    const sheet = `/api/lots/${id}/sheet`;
    expect((await mara.send('PUT', sheet, { values: { ceiling: 88 } })).statusCode).toBe(200);
    const asReadByTom = { 'if-match': etag };
    expect((await tom.send('PUT', sheet, { values: { ceiling: 90 } }, asReadByTom)).json()).toMatchObject({
      code: 'changed-meanwhile',
      errors: [{ pointer: '/body/sheetValues/ceiling' }],
    });
    expect((await tom.send('DELETE', `/api/lots/${id}`, undefined, asReadByTom)).statusCode).toBe(409);
    expect(test.lab.running.lab().lots?.[0]?.sheetValues).toEqual({ ceiling: 88 });
    const corrected = await tom.send('PUT', `/api/lots/${id}`, { ...pack, lot: 'X-2' }, asReadByTom);
    expect(corrected.json()).toMatchObject({ lot: 'X-2', sheetValues: { ceiling: 88 } });
  });

  it('is refused for a person whose own e-mail address it would take back, and taken for the role alone', async () => {
    const ida = await test.person(mara, 'technician', 'Ida');
    const read = await mara.send('GET', '/api/people');
    const {
      id,
      hasPassword: _,
      ...person
    } = read.json().find(({ name }: { name: string }) => name === 'Ida');
    const { name: __, role: ___, ...preferences } = person;
    const email = 'ida@lab.example';
    expect((await ida.send('PUT', '/api/account', { ...preferences, email })).statusCode).toBe(200);
    const asReadByMara = { 'if-match': read.headers.etag ?? '' };
    const change = (body: object) => mara.send('PUT', `/api/people/${id}`, body, asReadByMara);
    expect((await change({ ...person, role: 'viewer' })).json()).toMatchObject({
      code: 'changed-meanwhile',
      values: { name: 'Ida' },
      errors: [{ pointer: '/body/email' }],
    });
    expect((await change({ ...person, email, role: 'viewer' })).json()).toMatchObject({
      email,
      role: 'viewer',
    });
  });

  it('is not refused for what no lab file changes after one was taken', async () => {
    const { etag = '' } = (await tom.send('GET', '/api/casting-materials')).headers;
    const { yaml } = (await mara.send('GET', '/api/lab-file')).json<{ yaml: string }>();
    await mara.send('PUT', '/api/lab-file', { yaml: yaml.replace(/name: .*/, 'name: Lab of Mara') });
    const saved = await tom.send('PUT', '/api/casting-materials/gold', ALLOY, { 'if-match': etag });
    expect(saved.statusCode).toBe(200);
  });
});
