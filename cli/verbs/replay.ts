// `replay`: recorded readings, with what people did in that time, through the rules once more; beside another lab file,
// or beside what was really raised. It reads only, also while the program runs, and prints the same each time.

import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { readAlarmChanges } from '../../alerts/notices/alarm-archive.ts';
import { compareRaised, countDifferences } from '../../alerts/watch/replay/compare-raised.ts';
import { type Raised, findRaised, startReplay } from '../../alerts/watch/replay/replay.ts';
import { isNotice } from '../../alerts/watch/rule/rule.ts';
import { RULES } from '../../alerts/watch/rules/all-rules.ts';
import type { QualifyParts } from '../../collector/qualify/probe-record.ts';
import { qualify } from '../../collector/qualify/qualify.ts';
import type { Connection } from '../../lab/database/database.ts';
import type { Entry } from '../../lab/entry.ts';
import { type LabOverTime, probesById, unchanging, withPastOf } from '../../lab/database/past-lab.ts';
import { readLab, readPastLab } from '../../lab/database/sqlite-lab-repository.ts';
import { type EpochMillis, epochMillis } from '../../wax/units.ts';
import { CSV_OPTIONS, CSV_SHAPE, csvColumns, reportRefusedRows } from './csv-rows.ts';
import { DATABASE_NAME } from '../data/data-copy.ts';
import { labOfFile } from '../data/lab-of-file.ts';
import { readFolder } from './read-folder.ts';
import { differenceLine, raisedLine, type ReplayFormat, totalLine } from './replay-lines.ts';
import { csvBatches, journalBatches, journalFolder, storeBatches, storeSpan } from './replay-source.ts';
import {
  choiceOption,
  instantOption,
  type Verb,
  type VerbArguments,
  VerbRefusal,
  verbArguments,
} from './verb.ts';

const OPTIONS = [...CSV_OPTIONS, 'source', 'from', 'to', 'lab', 'beside', 'format'];
const RECORDED = 'recorded';
/** In place of a lab file: the lab as it is set up today. */
const NOW = 'now';
/** Entries per batch. */
const SLICE = 2000;

/** Another lab, or what was really raised. */
interface Beside {
  readonly name: string;
  readonly labAt: LabOverTime | null;
}

interface Asked extends VerbArguments {
  readonly from: EpochMillis | null;
  readonly to: EpochMillis | null;
  readonly labAt: LabOverTime;
  readonly beside: Beside | null;
  readonly format: ReplayFormat;
  readonly isJournal: boolean;
  /** Of the data folder; null where there is none. */
  readonly connection: Connection | null;
}

export const replay: Verb = {
  shape: `[FILE.csv ${CSV_SHAPE}] [--source store|journal] [--from INSTANT] [--to INSTANT] [--lab FILE|now] [--beside FILE|now|recorded] [--format text|json] [--data DIR]`,
  help: 'runs recorded readings through the rules again, beside other settings or what was really raised',
  run: async (args, usualData) => {
    const given = verbArguments(args, usualData, OPTIONS);
    const file = join(given.data, DATABASE_NAME);
    const connection = existsSync(file) || needsData(given) ? readFolder(given.data) : null;
    try {
      await replayAndCompare(readQuestion(given, connection));
      return 0;
    } finally {
      connection?.close();
    }
  },
};

/** A CSV and a lab file stand for themselves. */
const needsData = ({ positionals, value }: VerbArguments): boolean =>
  positionals.length === 0 || value('lab') === null || value('beside') === RECORDED;

function readQuestion(given: VerbArguments, connection: Connection | null): Asked {
  const { positionals, value } = given;
  if (positionals.length > 1) throw new VerbRefusal('replay takes one FILE.csv');
  const isJournal = choiceOption('source', value('source'), ['store', 'journal']) === 'journal';
  if (isJournal && positionals.length > 0)
    throw new VerbRefusal('replay takes either FILE.csv or --source journal');
  const past = connection && readPastLab(connection);
  const labFile = value('lab');
  const readLabOverTime = (name: string): LabOverTime => {
    const lab = name === NOW && connection !== null ? readLab(connection) : labOfFile(name);
    return past === null ? unchanging(lab) : withPastOf(lab, past);
  };
  const labAt = labFile === null ? past : readLabOverTime(labFile);
  if (labAt === null) throw new VerbRefusal('replay needs --lab or a data folder with a lab');
  const beside = value('beside');
  return {
    ...given,
    connection,
    isJournal,
    labAt,
    beside:
      beside === null ? null : { name: beside, labAt: beside === RECORDED ? null : readLabOverTime(beside) },
    from: instantOption('from', value('from')),
    to: instantOption('to', value('to')),
    format: choiceOption('format', value('format'), ['text', 'json']),
  };
}

async function replayAndCompare(question: Asked): Promise<void> {
  const { beside, format, isJournal, labAt } = question;
  const first = prepareReplay(labAt, isJournal);
  const second = beside?.labAt ? prepareReplay(beside.labAt, isJournal) : null;
  let [readings, acts]: [number, number] = [0, 0];
  const [watched, unwatched] = [new Set<string>(), new Set<string>()];
  let [begins, ends]: [number | null, number | null] = [null, null];
  for await (const batch of batchesOf(question)) {
    for (let from = 0; from < batch.length; from += SLICE) {
      const slice = batch.slice(from, from + SLICE);
      second?.take(slice);
      for (const entry of first.take(slice)) {
        if (entry.kind === 'act') acts += 1;
        if (entry.kind !== 'readings') continue;
        readings += entry.readings.length;
        const probes = probesById(labAt(entry.receivedAt));
        for (const { probe } of entry.readings) (probes.get(probe)?.station ? watched : unwatched).add(probe);
      }
    }
    begins ??= batch[0]?.receivedAt ?? null;
    ends = batch.at(-1)?.receivedAt ?? ends;
  }
  nameUnwatched([...unwatched].filter((probe) => !watched.has(probe)));
  const raised = first.raised();
  const total = { begins, ends, readings, acts, raised: raised.length };
  if (beside === null) {
    for (const each of raised) console.log(raisedLine(each, format));
    console.log(totalLine(total, null, format));
    return;
  }
  const others = second?.raised() ?? readRecorded(question, begins, ends);
  // What was really raised comes first: the replay is what would have been. Of what is only noted there is no record.
  const differences =
    second === null
      ? compareRaised(
          others,
          raised.filter(({ rule }) => !isNotice(RULES[rule])),
        )
      : compareRaised(raised, others);
  for (const difference of differences) console.log(differenceLine(difference, format));
  const counts = { beside: beside.name, raised: others.length, ...countDifferences(differences) };
  console.log(totalLine(total, counts, format));
}

/** Those that began while the replayed readings arrived. */
function readRecorded({ connection }: Asked, begins: number | null, ends: number | null): readonly Raised[] {
  if (connection === null || begins === null || ends === null) return [];
  const changes = readAlarmChanges(connection, epochMillis(begins), epochMillis(ends + 1));
  return findRaised(changes).filter(({ from }) => from >= begins);
}

async function* batchesOf(question: Asked): AsyncGenerator<readonly Entry[]> {
  const { connection, data, from, isJournal, labAt, positionals, to, value } = question;
  const [file] = positionals;
  const span = { ...(from !== null && { from }), ...(to !== null && { to }) };
  if (isJournal) yield* journalBatches(journalFolder(data), span);
  else if (file !== undefined)
    yield* csvBatches(file, csvColumns('replay', value), labAt, span, connection, reportRefusedRows(file));
  else if (connection !== null) {
    const asked = storeSpan(connection, from, to);
    if (asked !== null) yield* storeBatches(connection, labAt, asked);
  }
}

/** Readings that no rule sees, because the lab has no such probe or it is at no station. */
function nameUnwatched(probes: readonly string[]): void {
  if (probes.length > 0)
    console.error(`Not judged, because they are at no station of the lab: ${[...probes].sort().join(', ')}`);
}

interface PreparedReplay {
  /** Returns what the rules were given of them. */
  readonly take: (entries: readonly Entry[]) => readonly Entry[];
  readonly raised: () => readonly Raised[];
}

/** What lies in the journal was not yet qualified, and may have been delivered twice; what lies in the store was. */
function prepareReplay(labAt: LabOverTime, isRaw: boolean): PreparedReplay {
  const { raised, take } = startReplay(labAt);
  const give = (entries: readonly Entry[]): readonly Entry[] => {
    take(entries);
    return entries;
  };
  if (!isRaw) return { raised, take: give };
  const parts: QualifyParts = {};
  const storedValues = new Map<string, Map<number, number>>();
  const qualifyEntry = (raw: Entry): readonly Entry[] => {
    const { entry } = qualify(
      parts,
      raw,
      labAt(raw.receivedAt),
      (probe, at) => storedValues.get(probe)?.get(at) ?? null,
    );
    if (entry?.kind === 'readings')
      for (const { probe, at, celsius } of entry.readings) {
        const ofProbe = storedValues.get(probe) ?? new Map<number, number>();
        storedValues.set(probe, ofProbe.set(at, celsius));
      }
    return entry === null ? [] : [entry];
  };
  return { raised, take: (entries) => give(entries.flatMap(qualifyEntry)) };
}
