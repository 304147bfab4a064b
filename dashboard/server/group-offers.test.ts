import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Offer, OfferItem } from '../../lab/group/group-offer.ts';
import type { Browser, ServerForTests } from '../../tests/server-for-tests.ts';
import { serverForTests } from '../../tests/server-for-tests.ts';

const offerOf = (...items: readonly OfferItem[]): Offer => ({
  id: 'abcdefgh',
  note: 'From the new sheet',
  by: 'Noor Berg',
  offered_at: '2031-03-03T07:00:00.000Z',
  items: [...items],
});
const ceiling = (value: number): OfferItem => ({
  kind: 'wax-values',
  wax: 'inlay-type-2',
  values: { ceiling: value },
});
const LOT: OfferItem = {
  kind: 'lot',
  maker: 'Kerber',
  lot: 'X-9',
  wax: 'inlay-type-2',
  expires_on: '2033-05-31',
  sheet_values: {},
};

describe('offers of the group over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
  });
  afterEach(() => test.close());
  const offered = (...items: readonly OfferItem[]) => test.lab.groupOffers.take([offerOf(...items)], 1000);
  const offers = async () => (await manager.send('GET', '/api/group-offers')).json();
  const answer = (verb: 'accept' | 'decline', browser = manager) =>
    browser.send('POST', `/api/group-offers/abcdefgh/${verb}`, { reason: 'as agreed' });
  const ceilingNow = () => test.lab.running.lab().waxOverrides['inlay-type-2']?.ceiling;

  it('show what they would change here and change nothing before they are accepted', async () => {
    expect(await offers()).toEqual([]);
    offered(ceiling(96.5), LOT);
    expect(await offers()).toMatchObject([
      {
        id: 'abcdefgh',
        state: 'open',
        by: 'Noor Berg',
        note: 'From the new sheet',
        problems: [],
        changes: [
          { kind: 'wax-value', name: 'ceiling', after: 96.5 },
          { kind: 'lot-added', maker: 'Kerber' },
          { kind: 'lot-expiry', before: null, after: '2033-05-31' },
        ],
      },
    ]);
    expect(ceilingNow()).toBeUndefined();
    expect(test.lab.running.lab().lots ?? []).toEqual([]);
  });

  it('hold once a manager accepts them, with the name of who did in the audit trail', async () => {
    offered(ceiling(96.5), LOT, {
      kind: 'rule-figures',
      place: 'melt-pot',
      rule: 'over-ceiling',
      figures: { on_delay_seconds: 45 },
    });
    expect((await answer('accept')).json()).toMatchObject({ state: 'accepted', changes: [] });
    const lab = test.lab.running.lab();
    expect(ceilingNow()).toBe(96.5);
    expect(lab.lots).toMatchObject([{ maker: 'Kerber', lot: 'X-9', expiresOn: '2033-05-31' }]);
    const pots = lab.stations.filter(({ kind }) => kind === 'melt-pot');
    expect(pots.length).toBeGreaterThan(0);
    for (const { rules } of pots) expect(rules?.['over-ceiling']).toEqual({ on_delay_seconds: 45 });
    const audit = (await manager.send('GET', '/api/audit?limit=5')).json();
    expect(JSON.stringify(audit)).toMatch(/group-offer-accepted.*as agreed/);
    expect(test.lab.groupOffers.dueAnswer()).toMatchObject({ id: 'abcdefgh', answer: 'accepted' });
  });

  it('change nothing when a manager declines them, and are answered once', async () => {
    offered(ceiling(96.5));
    expect((await answer('decline')).json()).toMatchObject({ state: 'declined' });
    expect(ceilingNow()).toBeUndefined();
    expect((await answer('accept')).json()).toMatchObject({ status: 409, code: 'offer-answered' });
    expect(ceilingNow()).toBeUndefined();
  });

  it.each([
    ['the wax', ceiling(20)],
    ['the fire ladder', ceiling(400)],
    ['a rule', { kind: 'rule-figures', place: 'lab', rule: 'fire-risk', figures: { enabled: false } }],
  ] as const)('are refused with the reason where they contradict %s, and stay open', async (_, item) => {
    offered(LOT, item as OfferItem);
    expect((await offers())[0].problems).toEqual([expect.stringMatching(/\S/)]);
    const refused = await answer('accept');
    expect(refused.json()).toMatchObject({ status: 409, code: 'lab-contradiction' });
    expect(test.lab.running.lab().lots ?? []).toEqual([]);
    expect((await offers())[0].state).toBe('open');
  });

  it('are refused where the ceiling of a station would lie above that of its wax', async () => {
    test.lab.running.repository.saveWaxOverride('inlay-type-2', { ceiling: 100 });
    test.lab.running.repository.saveStation({
      ...({ id: 'pot-9', name: 'Third pot', kind: 'melt-pot', wax: 'inlay-type-2' } as const),
      ceiling_celsius: 95,
    });
    offered(ceiling(90));
    expect((await offers())[0].problems.length).toBeGreaterThan(0);
    expect((await answer('accept')).json().code).toBe('lab-contradiction');
  });

  it('are neither shown to a technician nor answered by one', async () => {
    offered(ceiling(96.5));
    const technician = await test.person(manager, 'technician', 'Ada Lind');
    expect((await technician.send('GET', '/api/group-offers')).statusCode).toBe(403);
    expect((await answer('accept', technician)).statusCode).toBe(403);
    expect((await manager.send('POST', '/api/group-offers/unknown/accept', {})).statusCode).toBe(404);
  });
});
