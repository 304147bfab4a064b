// The demonstration's past week and its first minutes, straight through decoder and rules, without a broker: what the
// simulated lab publishes is what the watch makes of it.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { AlarmChange } from '../../alerts/watch/life/alarm.ts';
import type { WatchState } from '../../alerts/watch/engine/state/memory.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { decodeMessage } from '../../collector/decode/decode-message.ts';
import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import { readLabFile } from '../../lab/lab-file/read-lab-file.ts';
import { demoSite, pastFaults, storyFaults, storySwitchedOn } from '../../simulators/demo-story.ts';
import { fleet } from '../../simulators/lab/fleet.ts';
import { labSimulation } from '../../simulators/lab/lab-simulation.ts';
import { messages } from '../../simulators/messages.ts';
import type { WireMessage } from '../../simulators/probe/wire-format.ts';
import { epochMillis } from '../../wax/units.ts';

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;
/** A Wednesday; any instant does, and the story's own tests try them all. */
const NOW = Date.UTC(2026, 10, 25, 14, 43, 7);
/** What the past needs to arrive. */
const BEGINS = NOW + 8000;
/** Entries of the past that are stepped at once. */
const BATCH = 1000;
const HORIZON = BEGINS + 12 * MINUTE;

const demoLab = (): Lab => {
  const reading = readLabFile(readFileSync(join(import.meta.dirname, '../../lab/files/demo.yaml'), 'utf8'));
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return { ...reading.lab, site: demoSite(reading.lab.site, NOW) };
};

const entriesOf = (site: string, { topic, payload }: WireMessage, at: number): readonly Entry[] =>
  decodeMessage({
    topic,
    payload: new TextEncoder().encode(payload),
    receivedAt: epochMillis(at),
    delivery: 'live',
    site,
  }).entries;

describe('the demonstration, as the rules see it', () => {
  const lab = demoLab();
  const { site } = lab;
  const past: AlarmChange[] = [];
  const live: AlarmChange[] = [];
  let state: WatchState = waxWatch.initial();

  const take = (entries: readonly Entry[], changes: AlarmChange[]) => {
    const step = waxWatch.stepAll(state, entries, lab);
    state = step.state;
    changes.push(...step.alarmChanges);
  };
  const raised = (changes: readonly AlarmChange[], rule: string, subject: string): readonly number[] =>
    changes
      .filter(
        ({ kind, alarm }) => kind.startsWith('raised') && alarm.rule === rule && alarm.subject === subject,
      )
      .map(({ at }) => at);

  beforeAll(() => {
    const published = fleet(1);
    const simulation = labSimulation({ ...published, site, seed: 1847, from: NOW - 8 * DAY });
    simulation.addFaults([...pastFaults(site, NOW), ...storyFaults(BEGINS)]);
    simulation.setSwitchedOn(NOW, storySwitchedOn(NOW));
    simulation.advance(NOW - 7 * DAY, () => Number.POSITIVE_INFINITY);
    const stream = messages(site.id, published, simulation);
    let waiting: Entry[] = [];
    for (const { message, sentAt } of stream.past(NOW)) {
      waiting.push(...entriesOf(site.id, message, sentAt), { kind: 'tick', receivedAt: epochMillis(sentAt) });
      if (waiting.length < BATCH) continue;
      take(waiting, past);
      waiting = [];
    }
    take(waiting, past);
    for (let at = BEGINS; at <= HORIZON; at += 2000) {
      const entries = [...stream.live(at).values()]
        .flat()
        .flatMap((message) => entriesOf(site.id, message, at));
      take([...entries, { kind: 'tick', receivedAt: epochMillis(at) }], live);
    }
  });

  it('announces the dip pot at least a minute before it is over its ceiling, near two and a half minutes in', () => {
    const [heading = 0] = raised(live, 'heading-over', 'dip-pot');
    const [over = 0] = raised(live, 'over-ceiling', 'dip-pot');
    expect(heading).toBeGreaterThan(BEGINS);
    expect(over - heading).toBeGreaterThanOrEqual(MINUTE);
    expect(over - BEGINS).toBeGreaterThan(2 * MINUTE);
    expect(over - BEGINS).toBeLessThan(3 * MINUTE);
  });

  it('lets the alarm return when the pot was taken off the mains', () => {
    const cleared = live.find(({ kind, alarm }) => kind === 'cleared' && alarm.rule === 'over-ceiling');
    expect(cleared?.alarm.subject).toBe('dip-pot');
    expect((cleared?.at ?? 0) - BEGINS).toBeGreaterThan(5.5 * MINUTE);
  });

  it('overheats nothing else, neither live nor in the past', () => {
    const hot = [...past, ...live].filter(({ alarm }) =>
      ['over-ceiling', 'heading-over', 'fire-risk', 'runaway'].includes(alarm.rule),
    );
    expect(new Set(hot.map(({ alarm }) => alarm.subject))).toEqual(new Set(['dip-pot']));
    expect(hot.every(({ at }) => at >= BEGINS - MINUTE)).toBe(true);
  });

  it('the past week holds no alarm beyond those that it means to show', () => {
    const begun = past.filter(({ kind }) => kind.startsWith('raised'));
    expect(new Set(begun.map(({ alarm }) => alarm.rule))).toEqual(
      new Set(['left-on', 'storage-swing', 'heat-dose-high', 'gateway-lost']),
    );
  });

  it('the past week holds the open window, the pot left on, the gateway that was away and the charge that ages', () => {
    const during = (kind: string) => pastFaults(site, NOW).find((fault) => fault.kind === kind);
    const within = (instants: readonly number[], kind: string) => {
      const fault = during(kind);
      return instants.filter(
        (at) => fault !== undefined && at >= fault.from && at <= fault.to + 6 * 60 * MINUTE,
      );
    };
    expect(within(raised(past, 'storage-swing', 'pattern-cabinet'), 'window-open').length).toBe(1);
    const leftOn = raised(past, 'left-on', 'melt-pot-plates');
    expect(leftOn.length).toBeGreaterThan(0);
    expect(within(leftOn, 'left-on')).toEqual(leftOn);
    expect(raised(past, 'left-on', 'dip-pot')).toEqual([]);
    expect(within(raised(past, 'gateway-lost', 'gw-bench'), 'gateway-dead').length).toBe(1);
    expect(raised(past, 'heat-dose-high', 'melt-pot-crowns').length).toBe(1);
  });
});
