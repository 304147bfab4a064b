import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Pattern } from '../../lab/pattern.ts';
import { type Browser, type ServerForTests, serverForTests } from '../../tests/server-for-tests.ts';

const MADE = '2031-02-01T08:00:00.000Z';
const ENDED = '2031-02-02T08:00:00.000Z';
const SEATED = '2031-02-04T08:00:00.000Z';

/** Predicted by a strain of 0.2 %; what is measured follows one of 0.3 % and 15 µm of the casting. */
const cast = (index: number, more: Partial<Pattern> = {}): Pattern => {
  const permanent = 10 + 3 * index;
  const gap = 15 + 1.5 * permanent + (index % 2 === 0 ? 1 : -1);
  return {
    ...({ id: `P${index}`, caseReference: `${index}`, wax: 'inlay-type-2', technique: 'dipped' } as const),
    length_millimetres: 10,
    tolerance_micrometres: 90,
    madeAt: MADE,
    madeBy: 'Tom',
    stays: [{ station: 'shelf-1', from: MADE, to: ENDED }],
    forming: { softening: index > 25 ? 'flame' : 'bath' },
    acts: [{ id: 'A', kind: 'seated', at: SEATED, recordedAt: SEATED, by: 'Tom', gap_micrometres: gap }],
    predictedAtInvesting: {
      at: ENDED,
      likely_micrometres: permanent,
      low_micrometres: permanent / 2,
      high_micrometres: permanent * 1.5,
      permanent_micrometres: permanent,
      frozen_strain: 0.002,
      stored_hours: 24,
      held_hours: 0,
      mean_kinetic_celsius: 22,
      too_warm_minutes: 0,
      swings: 1,
    },
    fate: { kind: 'invested', at: ENDED, by: 'Tom', reason: 'in time' },
    ...more,
  };
};

describe('the proof of predictions over the wire', () => {
  let test: ServerForTests;
  let manager: Browser;
  beforeEach(async () => {
    test = await serverForTests();
    manager = await test.manager();
  });
  afterEach(() => test.close());
  const save = (patterns: readonly Pattern[]) => {
    for (const pattern of patterns) test.lab.running.repository.savePattern(pattern);
  };
  const proof = async () => (await manager.send('GET', '/api/fit-proof')).json();
  const many = (count: number) => Array.from({ length: count }, (_, index) => cast(index));

  it('judges nothing by fewer than twenty measured gaps', async () => {
    expect(await proof()).toMatchObject({ cases: [], remakes: { remade: 0, ended: 0, factors: [] } });
    save(many(19));
    const { agreements, recalibrations } = await proof();
    expect(agreements[1]).toMatchObject({ stage: 'casting', pairs: 19, biasMicrometres: null });
    expect(recalibrations).toMatchObject([{ pairs: 19, problem: 'too-few-fit-cases', strain: null }]);
    const body = { wax: 'inlay-type-2', technique: 'dipped', stage: 'casting' };
    const refused = await manager.send('POST', '/api/fit-proof/recalibrate', body);
    expect(refused.json()).toMatchObject({ status: 409, code: 'too-few-fit-cases' });
  });

  it('gives bias, spread and the share inside the band, and the strain that the gaps speak for', async () => {
    save(many(30));
    const { agreements, recalibrations, cases } = await proof();
    // Mean of the predictions is 53.5 µm; the gaps lie 15 µm and half of that above them.
    expect(agreements[1].biasMicrometres).toBeCloseTo(15 + 53.5 / 2, 6);
    expect(agreements[1].insideShare).toBe(0);
    expect(recalibrations[0].strain).toBeCloseTo(0.003, 4);
    expect(recalibrations[0].constantMicrometres).toBeCloseTo(15, 0);
    expect(cases[0]).toMatchObject({
      storedHours: 24,
      factors: { stored: '12-to-48-hours', station: 'shelf-1' },
    });
  });

  it("takes that strain as the lab's own value on request of a manager, and keeps what was before in the trail", async () => {
    save(many(30));
    const body = { wax: 'inlay-type-2', technique: 'dipped', stage: 'casting' };
    const technician = await test.person(manager, 'technician', 'Tom');
    expect((await technician.send('POST', '/api/fit-proof/recalibrate', body)).statusCode).toBe(403);
    const taken = (await manager.send('POST', '/api/fit-proof/recalibrate', body)).json();
    expect(taken.recalibrations[0].presentStrain).toBeCloseTo(0.003, 4);
    const [wax] = (await manager.send('GET', '/api/wax-classes'))
      .json()
      .filter(({ id }: { id: string }) => id === 'inlay-type-2');
    expect(wax.figures['relaxation.frozenStrain.dipped']).toMatchObject({ standing: "lab's own" });
    const [trail] = (await manager.send('GET', '/api/audit')).json();
    expect(trail).toMatchObject({ action: 'wax-values-saved', before: {} });
  });

  it('counts remakes and castings over the tolerance, prices them, and names what they had in common', async () => {
    const { repository } = test.lab.running;
    repository.saveSite({ ...repository.lab().site, patternCare: { remake_price: 40, remake_minutes: 90 } });
    save(many(30));
    save([cast(40, { acts: [], fate: { kind: 'remade', at: ENDED, by: 'Tom', reason: 'margin lifted' } })]);
    const { remakes } = await proof();
    // Gaps over 90 µm from the 14th on, by 15 + 1.5 (10 + 3 n) and the one of both signs.
    expect(remakes).toMatchObject({ ended: 31, price: 40, minutes: 90 });
    const failed = many(30).filter(({ acts }) => (acts?.[0]?.gap_micrometres ?? 0) > 90).length;
    expect(remakes.remade).toBe(failed + 1);
    expect(remakes.factors).toMatchObject([{ name: 'softening', value: 'flame', remade: 5, of: 5 }]);
  });
});
