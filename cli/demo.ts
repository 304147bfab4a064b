// The demonstration: an invented lab whose past week is simulated faster than time and goes through the same
// decoder, journal, rules and store as any reading, with its people acknowledging in working hours; then live
// gateways publish to the embedded broker over MQTT.

import { decodeMessage } from '../collector/decode/decode-message.ts';
import type { Entry } from '../lab/entry.ts';
import type { Lab } from '../lab/lab.ts';
import { holdsMeltedWax } from '../lab/station-kinds.ts';
import {
  demoCharges,
  demoLots,
  demoPatterns,
  type DemoPot,
  demoTopUp,
  PAST_DAYS,
  patternDiary,
} from '../simulators/demo-records.ts';
import { dayOf } from '../simulators/lab/site-hours.ts';
import { demoSite } from '../simulators/demo-story.ts';
import { type SimulatedLab, startSimulatedLab } from '../simulators/simulated-lab.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../wax/units.ts';
import type { CreateLab } from './data/create-lab.ts';
import { labOfFile } from './data/lab-of-file.ts';
import type { LabProcess } from './process/lab-process.ts';
import type { ProcessSettings } from './settings/settings.ts';
import { shippedLabFile } from './process/shipped.ts';
import { messageOf } from '../words/load-languages.ts';

const SEED = 1847;
/** People acknowledge an alarm this long after it was raised, and no sooner than this after the lab opened. */
const ACKNOWLEDGED_AFTER_MILLIS = MILLIS_PER_HOUR / 2;
/** Packs of the past that go into the journal at once. */
const PACKS = 200;

export interface Demo {
  readonly createLab: CreateLab;
  readonly past: (lab: LabProcess) => Promise<void>;
  readonly startLive: (lab: LabProcess) => Promise<void>;
  readonly stop: () => Promise<void>;
}

export function demoLab(settings: ProcessSettings, now: () => EpochMillis): Demo {
  const words = demoWords(settings.demoLanguage);
  const described = labOfDemo(now(), words);
  let simulated: SimulatedLab | null = null;
  let isNew = false;
  let isStopped = false;
  return {
    createLab: (_database, repository) => {
      isNew = repository.isEmpty();
      if (!isNew) return;
      repository.replace(described);
      for (const lot of demoLots(now(), words.maker)) repository.saveLot(lot);
      for (const charge of demoCharges(potsOf(described), now())) repository.saveCharge(charge);
    },
    past: async (lab) => {
      simulated = startSimulatedLab({
        brokerUrl: brokerUrlOf(settings, lab),
        site: lab.running.lab().site,
        now,
        seed: SEED,
        // A lab from an earlier run continues on its own clock; its story is over.
        story: isNew,
        pastDays: PAST_DAYS,
      });
      if (isNew)
        await replayPast(lab, {
          simulated,
          pots: potsOf(described),
          caseOf: words.case,
          now,
          isStopped: () => isStopped,
        });
    },
    startLive: async () => {
      if (!isStopped) await simulated?.startLive();
    },
    stop: async () => {
      isStopped = true;
      await simulated?.stop();
    },
  };
}

/** What its people named, by id; the id itself where no language has a name for it. */
const demoWords = (language: string) => {
  const named =
    (what: string) =>
    (id: string): string =>
      messageOf(language, `demonstration.${what}.${id}`) ?? id;
  return { station: named('station'), case: named('case'), maker: named('maker') };
};

function labOfDemo(now: EpochMillis, words: ReturnType<typeof demoWords>): Lab {
  const lab = labOfFile(shippedLabFile('demo'));
  const stations = lab.stations.map((station) => ({ ...station, name: words.station(station.id) }));
  return { ...lab, stations, site: demoSite(lab.site, now) };
}

const potsOf = ({ stations }: Lab): readonly DemoPot[] =>
  stations.flatMap(({ id, kind, wax, charge_grams: grams = 0 }) =>
    holdsMeltedWax(kind) && wax !== null ? [{ id, wax, grams }] : [],
  );

function brokerUrlOf({ broker }: ProcessSettings, { intake, login }: LabProcess): string {
  if (broker.kind === 'external') return broker.url;
  const status = intake.status().broker;
  if (status.state !== 'listening') throw new Error('the embedded broker does not listen');
  const signIn = login === null ? '' : `${login.user}:${login.password}@`;
  return `mqtt://${signIn}127.0.0.1:${status.port}`;
}

interface Past {
  readonly simulated: SimulatedLab;
  readonly pots: readonly DemoPot[];
  readonly caseOf: (pattern: string) => string;
  readonly now: () => EpochMillis;
  readonly isStopped: () => boolean;
}

async function replayPast(lab: LabProcess, past: Past): Promise<void> {
  const { simulated, pots, caseOf, now, isStopped } = past;
  const started = performance.now();
  const { site } = lab.running.lab();
  lab.prepare(0);
  await lab.intake.append(chargeActs(pots, now()));
  const savePatterns = patternDiary(demoPatterns(site, now(), caseOf), lab.running.repository.savePattern);
  const freshWax = demoTopUp(site, now());
  let isToppedUp = false;
  let entries: Entry[] = [];
  let packs = 0;
  const flush = async (): Promise<void> => {
    await lab.intake.append(entries);
    entries = [];
    packs = 0;
    await lab.pipeline.drain();
  };
  for (const { message, sentAt } of simulated.pastPacks()) {
    if (isStopped()) return;
    const receivedAt = epochMillis(sentAt);
    if (!isToppedUp && receivedAt >= freshWax.at) {
      isToppedUp = true;
      entries.push(topUp(lab, freshWax, receivedAt));
    }
    const payload = new TextEncoder().encode(message.payload);
    const decoded = decodeMessage({
      topic: message.topic,
      payload,
      receivedAt,
      delivery: 'live',
      site: site.id,
    });
    entries.push(...decoded.entries, { kind: 'tick', receivedAt });
    packs += 1;
    if (packs < PACKS) continue;
    await flush();
    savePatterns(receivedAt);
    lab.prepare(1 - (now() - receivedAt) / (PAST_DAYS * MILLIS_PER_DAY));
    entries.push(...alarmActs(lab, receivedAt));
  }
  await flush();
  savePatterns(now());
  lab.prepare(null);
  const seconds = ((performance.now() - started) / 1000).toFixed(0);
  console.log(`Simulated the lab's last ${PAST_DAYS} days in ${seconds} s.`);
}

/** Every pot's charge is as old as the past. */
function chargeActs(pots: readonly DemoPot[], now: EpochMillis): readonly Entry[] {
  const receivedAt = epochMillis(now - PAST_DAYS * MILLIS_PER_DAY);
  return pots.map(({ id, wax, grams }): Entry => {
    const act = { type: 'charge-changed', station: id, wax, grams, by: 'Mira Holm' } as const;
    return { kind: 'act', receivedAt, act };
  });
}

/** Fresh wax of another lot in the crown pot: into the journal and the lab's record alike. */
function topUp(
  { running }: LabProcess,
  { station, fraction, lot }: ReturnType<typeof demoTopUp>,
  receivedAt: EpochMillis,
): Entry {
  const by = 'Mira Holm';
  const id = 'crowns-top-up';
  const charge = running.lab().charges.find((each) => each.station === station);
  const at = new Date(receivedAt).toISOString();
  if (charge !== undefined)
    running.repository.saveCharge({ ...charge, topUps: [...charge.topUps, { id, at, fraction, by, lot }] });
  return { kind: 'act', receivedAt, act: { type: 'topped-up', station, fraction, id, by } };
}

/** While somebody is there, alarms are acknowledged, and reset where they latched, as in a lab that is looked after. */
function alarmActs(lab: LabProcess, at: EpochMillis): readonly Entry[] {
  const { work } = dayOf(lab.running.lab().site, at);
  const before = at - ACKNOWLEDGED_AFTER_MILLIS;
  if (work === null || before < work.opens || at > work.closes) return [];
  return lab.running
    .openAlarms()
    .filter(({ raisedAt }) => raisedAt < before)
    .flatMap(({ id, acknowledged, active, latched }): Entry[] => {
      const act = (type: 'acknowledge' | 'reset'): Entry => ({
        kind: 'act',
        receivedAt: at,
        act: { type, alarm: id, by: 'Anton Reuss' },
      });
      return [...(acknowledged ? [] : [act('acknowledge')]), ...(latched && !active ? [act('reset')] : [])];
    });
}
