import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { LAYOUT } from '../alerts/watch/engine/state/memory.ts';
import { waxWatch } from '../alerts/watch/wax-watch.ts';
import type { Journal, TailReader } from '../collector/journal/journal.ts';
import type { Rejection } from '../collector/decode/rejection.ts';
import { qualify } from '../collector/qualify/qualify.ts';
import type { Store } from '../collector/store/store.ts';
import type { Entry } from '../lab/entry.ts';
import { DatabaseRefusal } from '../lab/database/database.ts';
import { type DataFolder, openDataFolder } from '../tests/data-folder-for-tests.ts';
import { celsius, epochMillis } from '../wax/units.ts';
import { Pipeline } from './pipeline.ts';

const AT = epochMillis(1_764_000_000_000);
const reading = (value: number, at = AT): Entry => ({
  kind: 'readings',
  receivedAt: at,
  gateway: 'gw',
  readings: [{ probe: 'pot-wax', at, celsius: celsius(value), quality: 'good' }],
});
/** One reading alone raises no alarm. */
const hot: readonly Entry[] = [reading(120), reading(120, epochMillis(AT + 10_000))];
const acknowledge = (alarm: string): Entry => ({
  kind: 'act',
  receivedAt: AT,
  act: { type: 'acknowledge', alarm, by: 'Ilse Brandt' },
});

let data: DataFolder;
let journal: Journal;
let reader: TailReader;
let store: Store;
let pipeline: Pipeline;

/** `afterAppend` is what the process does between an entry being on disk and the answer to its author. */
const openPipeline = (
  afterAppend: () => Promise<void> = async () => {},
  delay: (millis: number) => Promise<void> = async () => {},
): Pipeline =>
  new Pipeline({
    watch: waxWatch,
    qualify,
    store,
    reader,
    lab: data.repository.lab,
    journalEnd: () => journal.end(),
    append: async (entries) => {
      const offset = await journal.append(entries);
      await afterAppend();
      return offset;
    },
    alongside: () => [],
    delay,
  });

beforeEach(async () => {
  data = await openDataFolder(AT, { withPot: true });
  ({ journal, reader, store } = data);
  pipeline = openPipeline();
});
afterEach(async () => {
  await pipeline.stop();
  await data.close();
});

const openAlarm = (): string => waxWatch.openAlarms(pipeline.watchState)[0]?.id ?? 'none';

describe('what a person does', () => {
  it('is answered when it is committed', async () => {
    await journal.append(hot);
    await pipeline.drain();
    expect(await pipeline.act(acknowledge(openAlarm()))).toEqual({ ok: true });
    expect(waxWatch.openAlarms(pipeline.watchState)[0]).toMatchObject({ acknowledgedBy: 'Ilse Brandt' });
  });

  it('is answered although it was applied before its author was answered that it is on disk', async () => {
    pipeline = openPipeline(() => pipeline.drain());
    expect(await pipeline.act(acknowledge('pot.over-ceiling.1'))).toMatchObject({
      ok: false,
      code: 'alarm-not-open',
    });
    await journal.append(hot);
    await pipeline.drain();
    expect(await pipeline.act(acknowledge(openAlarm()))).toEqual({ ok: true });
  });
});

describe('readings that nobody waits for', () => {
  let commits: number[];
  let letTimePass: () => void;
  beforeEach(() => {
    const whole = store;
    commits = [];
    store = {
      ...whole,
      apply: async (batch) => {
        commits.push(batch.readings.length);
        await whole.apply(batch);
      },
    };
    pipeline = openPipeline(undefined, () => new Promise((resolve) => (letTimePass = resolve)));
  });
  const arrive = async (entry: Entry) => {
    await journal.append([entry]);
    await pipeline.follow();
  };

  it('share one commit, a moment later', async () => {
    for (const second of [0, 1, 2]) await arrive(reading(70, epochMillis(AT + second * 1000)));
    expect(commits).toEqual([]);
    letTimePass();
    await pipeline.drain();
    expect(commits).toEqual([3]);
    expect(pipeline.offset).toBe(journal.end());
  });

  it('are committed at once with the alarm that comes after them', async () => {
    await arrive(reading(70));
    for (const second of [60, 70]) await arrive(reading(120, epochMillis(AT + second * 1000)));
    expect(commits).toEqual([3]);
    expect(waxWatch.openAlarms(pipeline.watchState).map(({ rule }) => rule)).toContain('over-ceiling');
  });

  it('are given again by the journal when the process ends before their commit', async () => {
    await arrive(reading(70));
    await pipeline.stop();
    pipeline = openPipeline();
    await pipeline.drain();
    expect(commits).toEqual([1]);
    expect(store.offset()).toBe(journal.end());
  });
});

describe('after a stop', () => {
  it('the pipeline goes on with the state and the offset that it committed', async () => {
    await journal.append(hot);
    await pipeline.drain();
    const before = { offset: pipeline.offset, alarms: waxWatch.openAlarms(pipeline.watchState) };
    expect(before.alarms).not.toEqual([]);
    pipeline = openPipeline();
    expect({ offset: pipeline.offset, alarms: waxWatch.openAlarms(pipeline.watchState) }).toEqual(before);
  });

  it('the pipeline stores what an earlier version remembered in its present form, with the first commit', async () => {
    const dose = { hours: 3, hotSeconds: 7200, gapSeconds: 0, at: AT, celsius: 70, readings: 9, refused: 0 };
    const pot = {
      at: AT,
      celsius: 70,
      uncertainty: 0.2,
      probes: {},
      trend: null,
      bucket: null,
      activity: null,
      charge: { dose, gaps: [] },
      hotHoursBefore: 0,
      plannedOff: false,
      plannedOnAt: null,
      load: null,
      warmUp: null,
      night: null,
      learned: {},
      rules: {},
    };
    const ruleState = { 'watch/station:pot': pot, 'watch/past:pot': [], 'watch/gateway:gw': 'unknown' };
    await store.apply({ readings: [], ruleState, alongside: [], offset: 0 });
    for (const _ of ['first start', 'second start']) {
      pipeline = openPipeline();
      expect(pipeline.watchState['station:pot']?.charge.dose).toMatchObject({ hours: 3 });
    }
    await journal.append([reading(70)]);
    await pipeline.drain();
    const stored = store.ruleState();
    expect(stored['watch/layout']).toBe(LAYOUT);
    expect(stored['watch/history:pot']).toEqual([]);
    expect(stored).not.toHaveProperty('watch/past:pot');
    expect(stored['unread/watch/gateway:gw']).toBe('unknown');
    pipeline = openPipeline();
    expect(pipeline.watchState['station:pot']?.charge.dose.hours).toBeGreaterThanOrEqual(3);
  });

  it('a batch that could not be committed is tried again and changes nothing twice', async () => {
    let failures = 2;
    const whole = store;
    store = {
      ...whole,
      apply: async (batch) => {
        failures -= 1;
        if (failures >= 0) throw new Error('no room');
        await whole.apply(batch);
      },
    };
    pipeline = openPipeline();
    await journal.append(hot);
    await pipeline.drain();
    expect(pipeline.problem).toBeNull();
    expect(waxWatch.openAlarms(pipeline.watchState).map(({ rule, count }) => [rule, count])).toContainEqual([
      'over-ceiling',
      1,
    ]);
    expect(await whole.raw({ probe: 'pot-wax', from: AT, to: epochMillis(AT + 1), limit: 9 })).toHaveLength(
      1,
    );
  });
});

describe('an entry that the program cannot work with', () => {
  let rejections: Rejection[];
  const open = (broken: 'watch' | 'commit', isBroken: (entry: Entry) => boolean): Pipeline => {
    rejections = [];
    type Step = typeof waxWatch.stepAll;
    const breaking =
      (step: Step): Step =>
      (state, entries, lab) => {
        // What comes before it has been written into the state by then.
        const at = broken === 'watch' ? entries.findIndex(isBroken) : -1;
        if (at === -1) return step(state, entries, lab);
        step(state, entries.slice(0, at), lab);
        throw new TypeError('a mistake of ours');
      };
    return new Pipeline({
      watch: { ...waxWatch, stepAll: breaking(waxWatch.stepAll), advance: breaking(waxWatch.advance) },
      qualify,
      store: {
        ...store,
        apply: async (batch) => {
          const isHit = batch.readings.some(({ at, ...rest }) =>
            isBroken({ kind: 'readings', receivedAt: at, gateway: 'gw', readings: [{ at, ...rest }] }),
          );
          if (broken === 'commit' && isHit) throw new RangeError('a mistake of ours');
          await store.apply(batch);
        },
      },
      reader,
      lab: data.repository.lab,
      journalEnd: () => journal.end(),
      append: (entries) => journal.append(entries),
      alongside: (batch) => [
        () => {
          rejections.push(...batch.rejections);
        },
      ],
      delay: async () => {},
    });
  };
  const isBad = (entry: Entry): boolean => entry.kind === 'readings' && entry.readings[0]?.celsius === 77;
  const bad = reading(77, epochMillis(AT + 5000));

  it.each(['watch', 'commit'] as const)(
    'is set aside with its reason, and all before and after it goes on, when the %s fails on it',
    async (broken) => {
      pipeline = open(broken, isBad);
      const [first, ...others] = hot;
      await journal.append([...(first === undefined ? [] : [first]), bad, ...others]);
      await pipeline.drain();
      expect(pipeline.offset).toBe(journal.end());
      expect(pipeline.problem).toBeNull();
      expect(openAlarm()).toContain('over-ceiling');
      expect(rejections).toMatchObject([
        {
          code: 'entry-set-aside',
          topic: expect.stringContaining('/gw'),
          values: { reason: 'a mistake of ours' },
        },
      ]);
      expect(Buffer.from(rejections[0]?.sample ?? []).toString()).toBe(JSON.stringify(bad));
      expect(pipeline.setAside).toMatchObject({ at: AT + 5000, kind: 'readings' });
      const stored = await store.raw({ probe: 'pot-wax', from: AT, to: epochMillis(AT + 60_000), limit: 9 });
      expect(stored.map(({ celsius: value }) => value)).toEqual([120, 120]);
    },
  );

  it('costs nothing that was judged before it and was not committed yet', async () => {
    pipeline = open('watch', isBad);
    const [first, ...others] = hot;
    if (first === undefined) throw new Error('no reading');
    await journal.append([first]);
    await pipeline.follow();
    await journal.append([...others, bad]);
    await pipeline.drain();
    expect(pipeline.offset).toBe(journal.end());
    expect(openAlarm()).toContain('over-ceiling');
    expect(rejections).toMatchObject([{ code: 'entry-set-aside' }]);
    const stored = await store.raw({ probe: 'pot-wax', from: AT, to: epochMillis(AT + 60_000), limit: 9 });
    expect(stored.map(({ celsius: value }) => value)).toEqual([120, 120]);
  });

  it("that is a person's act is refused to its author, who need not wait for ever", async () => {
    pipeline = open('watch', ({ kind }) => kind === 'act');
    expect(await pipeline.act(acknowledge('any'))).toEqual({ ok: false, code: 'entry-set-aside' });
    expect(pipeline.offset).toBe(journal.end());
  });

  it('is not set aside for what the disk refuses: everything waits for the disk', async () => {
    let refusals = 12;
    const whole = store;
    store = {
      ...whole,
      apply: async (batch) => {
        refusals -= 1;
        if (refusals >= 0) throw new DatabaseRefusal('database-full', { file: 'lab.db' });
        await whole.apply(batch);
      },
    };
    pipeline = openPipeline();
    await journal.append([...hot, bad]);
    await pipeline.drain();
    expect(pipeline.setAside).toBeNull();
    expect(
      await whole.raw({ probe: 'pot-wax', from: AT, to: epochMillis(AT + 60_000), limit: 9 }),
    ).toHaveLength(3);
  });

  it('holds up no end: what waits for the disk is left to the journal', async () => {
    store = {
      ...store,
      apply: async () => {
        throw new DatabaseRefusal('database-full', { file: 'lab.db' });
      },
    };
    // A pause between tries that never ends.
    let pauses = 0;
    const pausing = openPipeline(undefined, () => {
      pauses += 1;
      return new Promise(() => {});
    });
    await journal.append(hot);
    const drained = pausing.drain();
    while (pauses === 0) await new Promise(setImmediate);
    await pausing.stop();
    await drained;
    expect(pausing.offset).toBeLessThan(journal.end());
  });
});
