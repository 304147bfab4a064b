import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../database/database.ts';
import { type Offer, offersMessage, readOffers } from './group-offer.ts';
import { type GroupOfferTable, openGroupOfferTable } from './group-offer-table.ts';

const offerOf = (id: string, change: Partial<Offer> = {}): Offer => ({
  id,
  note: 'From the new sheet',
  by: 'Noor Berg',
  offered_at: '2031-03-03T07:00:00.000Z',
  items: [{ kind: 'wax-values', wax: 'inlay-type-2', values: { ceiling: 95 } }],
  ...change,
});

describe('offers of the group in the database of the lab', () => {
  let folder: string;
  let database: LabDatabase;
  let table: GroupOfferTable;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'waxwarden-offers-'));
    database = openDatabase(join(folder, 'lab.sqlite'));
    table = openGroupOfferTable(database);
  });
  afterEach(() => {
    database.close();
    rmSync(folder, { recursive: true, force: true });
  });
  const states = () => table.all().map(({ offer, state }) => [offer.id, state]);
  const accept = (id: string) => table.answer({ id, answer: 'accepted', at: 2000, by: 'Ada Lind' });

  it('follow what the group lists: what it lists no more was taken back', () => {
    table.take([offerOf('offer-01'), offerOf('offer-02')], 1000);
    table.take([offerOf('offer-02')], 1001);
    expect(states()).toEqual([['offer-02', 'open']]);
    table.take([], 1002);
    expect(states()).toEqual([]);
  });

  it('keep what they held when they came, whatever is sent under the same id later', () => {
    table.take([offerOf('offer-01')], 1000);
    table.take([offerOf('offer-01', { items: [{ kind: 'wax-values', wax: 'sticky', values: {} }] })], 1001);
    expect(table.offer('offer-01')?.offer).toEqual(offerOf('offer-01'));
  });

  it('stay answered whatever the group lists, and the answer is due until it was delivered', () => {
    table.take([offerOf('offer-01')], 1000);
    expect(table.dueAnswer()).toBeUndefined();
    accept('offer-01');
    table.answer({ id: 'offer-01', answer: 'declined', at: 3000, by: 'Uma Veld' });
    expect(table.dueAnswer()).toEqual({ id: 'offer-01', answer: 'accepted', at: 2000, by: 'Ada Lind' });
    table.settleAnswer('offer-01');
    expect(table.dueAnswer()).toBeUndefined();
    table.take([], 1001);
    expect(states()).toEqual([['offer-01', 'accepted']]);
  });

  it('are answered again when the group still lists what was answered', () => {
    table.take([offerOf('offer-01')], 1000);
    accept('offer-01');
    table.settleAnswer('offer-01');
    table.take([offerOf('offer-01')], 1001);
    expect(table.dueAnswer()).toMatchObject({ id: 'offer-01', answer: 'accepted' });
    expect(table.openCount()).toBe(0);
  });

  it('are open no more once the lab has left the group, and no answer waits', () => {
    table.take([offerOf('offer-01'), offerOf('offer-02')], 1000);
    accept('offer-01');
    table.leave();
    expect(states()).toEqual([['offer-01', 'accepted']]);
    expect(table.dueAnswer()).toBeUndefined();
  });
});

describe('a message with the offers of the group', () => {
  const bytes = (value: unknown) => new TextEncoder().encode(JSON.stringify(value));
  const message = offersMessage('north', 1000, [offerOf('offer001')]);

  it('is read by the lab that it names, and by no other', () => {
    expect(readOffers(bytes(message), 'north')).toEqual({ offers: [offerOf('offer001')], refused: 0 });
    expect(readOffers(bytes(message), 'south')).toBeNull();
  });

  it.each([
    ['of another version', { ...message, version: 2 }],
    ['without offers', { ...message, offers: undefined }],
    [
      'with more offers than a lab can look through',
      { ...message, offers: Array(51).fill(offerOf('offer001')) },
    ],
    ['that is no object', null],
  ])('%s is none', (_, value) => {
    expect(readOffers(bytes(value), 'north')).toBeNull();
  });

  it('keeps the offers that are understood and counts the rest', () => {
    const strange = [
      { ...offerOf('offer002'), items: [{ kind: 'of-tomorrow' }] },
      { ...offerOf('offer003'), note: 'turned \u202eround' },
      { ...offerOf('offer004'), by: '' },
      { ...offerOf('../escape') },
      { ...offerOf('offer005'), items: [] },
      7,
    ];
    const read = readOffers(bytes({ ...message, offers: [...message.offers, ...strange] }), 'north');
    expect(read).toEqual({ offers: [offerOf('offer001')], refused: strange.length });
  });
});
