// The demonstration: an invented lab whose past week is simulated faster than time and goes through the same
// decoder, journal, rules and store as any reading, with its people acknowledging in the mornings; then live
// gateways publish to the embedded broker over MQTT.

import { decodeMessage } from '../collector/decode/decode-message.ts';
import type { Entry } from '../lab/entry.ts';
import type { Lab } from '../lab/lab.ts';
import { holdsMeltedWax } from '../lab/station-kinds.ts';
import { demoCharges, demoPatterns, PAST_DAYS, patternDiary } from './demo-records.ts';
import { demoSite } from '../simulators/demo-story.ts';
import { type SimulatedLab, startSimulatedLab } from '../simulators/simulated-lab.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../wax/units.ts';
import { type CreateLab, labOfFile } from './create-lab.ts';
import type { House } from './house.ts';
import type { ProcessSettings } from './settings.ts';
import { shippedLabFile } from './shipped.ts';

const SEED = 1847;
/** Somebody of the demonstration's lab has a look at what is open so long after it was raised. */
const SEEN_AFTER_MILLIS = 12 * MILLIS_PER_HOUR;
/** Packs of the past that go into the journal at once. */
const PACKS = 200;

export interface Demo {
  readonly createLab: CreateLab;
  readonly past: (house: House) => Promise<void>;
  readonly startLive: (house: House) => Promise<void>;
  readonly stop: () => Promise<void>;
}

export function demoLab(settings: ProcessSettings, now: () => EpochMillis): Demo {
  const lab = demoLabFile(now());
  let simulated: SimulatedLab | null = null;
  let isNew = false;

  const createLab: CreateLab = (_database, repository) => {
    isNew = repository.isEmpty();
    if (!isNew) return;
    repository.replace(lab);
    for (const charge of demoCharges(lab, now())) repository.saveCharge(charge);
  };

  const brokerUrl = (house: House): string => {
    const { broker } = house.intake.status();
    if (settings.broker.kind === 'external') return settings.broker.url;
    if (broker.state !== 'listening') throw new Error('the embedded broker does not listen');
    const login = house.login === null ? '' : `${house.login.user}:${house.login.password}@`;
    return `mqtt://${login}127.0.0.1:${broker.port}`;
  };

  const past = async (house: House): Promise<void> => {
    const { site } = house.running.lab();
    simulated = startSimulatedLab({
      brokerUrl: brokerUrl(house),
      site,
      now,
      seed: SEED,
      // A lab that was kept goes on by its own clock; its story was told.
      story: isNew,
      pastDays: PAST_DAYS,
    });
    if (!isNew) return;
    const started = performance.now();
    house.prepare(0);
    await house.intake.append(pastCharges(lab, now()));
    const written = patternDiary(demoPatterns(now()), house.running.repository);
    let entries: Entry[] = [];
    let packs = 0;
    const flush = async () => {
      const offset = await house.intake.append(entries);
      entries = [];
      packs = 0;
      await house.pipeline.drain();
      return offset;
    };
    for (const { message, sentAt } of simulated.pastPacks()) {
      const at = epochMillis(sentAt);
      const payload = new TextEncoder().encode(message.payload);
      const decoded = decodeMessage({
        topic: message.topic,
        payload,
        receivedAt: at,
        delivery: 'live',
        site: site.id,
      });
      entries.push(...decoded.entries, { kind: 'tick', receivedAt: at });
      packs += 1;
      if (packs < PACKS) continue;
      await flush();
      written(at);
      house.prepare(1 - (now() - at) / (PAST_DAYS * MILLIS_PER_DAY));
      entries.push(...seenByPeople(house, at));
    }
    await flush();
    written(now());
    house.prepare(null);
    const taken = ((performance.now() - started) / 1000).toFixed(0);
    console.log(`Simulated the lab's last ${PAST_DAYS} days in ${taken} s.`);
  };

  return {
    createLab,
    past,
    startLive: async () => simulated?.startLive(),
    stop: async () => simulated?.stop(),
  };
}

function demoLabFile(now: EpochMillis): Lab {
  const lab = labOfFile(shippedLabFile('demo'));
  return { ...lab, site: demoSite(lab.site, now) };
}

/** Every pot's charge is as old as the past. */
function pastCharges({ stations }: Lab, now: EpochMillis): readonly Entry[] {
  const at = epochMillis(now - PAST_DAYS * MILLIS_PER_DAY);
  return stations.flatMap(({ id, kind, wax, charge_grams: grams = 0 }): Entry[] =>
    holdsMeltedWax(kind) && wax !== null
      ? [
          {
            kind: 'act',
            receivedAt: at,
            act: { type: 'charge-changed', station: id, wax, grams, by: 'Mira Holm' },
          },
        ]
      : [],
  );
}

/** What has been open for half a day is acknowledged, and reset where it latched, as a lab that is looked after. */
function seenByPeople(house: House, at: EpochMillis): readonly Entry[] {
  return house.running
    .openAlarms()
    .filter(({ raisedAt }) => raisedAt < at - SEEN_AFTER_MILLIS)
    .flatMap(({ id, acknowledged, active, latched }): Entry[] => {
      const act = (type: 'acknowledge' | 'reset'): Entry => ({
        kind: 'act',
        receivedAt: at,
        act: { type, alarm: id, by: 'Anton Reuss' },
      });
      return [...(acknowledged ? [] : [act('acknowledge')]), ...(latched && !active ? [act('reset')] : [])];
    });
}
