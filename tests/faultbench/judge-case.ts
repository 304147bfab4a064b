// One case from its readings to its score.

import type { LabelledCase } from '../../simulators/cases/case.ts';
import type { Lab } from '../../lab/lab.ts';
import { caseLab, type WithoutSetting } from './case-lab.ts';
import { casePlaces } from './case-places.ts';
import { type Beginning, refusedSettings, runCase, type RunOptions } from './run-case.ts';
import { type CaseScore, scoreCase } from './score-case.ts';

export interface JudgedCase {
  readonly name: string;
  readonly lab: Lab;
  readonly beginnings: readonly Beginning[];
  readonly score: CaseScore;
  readonly withoutSetting: readonly WithoutSetting[];
}

export async function judgeCase(labelled: LabelledCase, options: RunOptions = {}): Promise<JudgedCase> {
  const { lab, withoutSetting } = caseLab(labelled);
  const beginnings = await runCase(labelled, lab, options);
  const watched = new Set(lab.stations.map(({ id }) => id));
  const places = casePlaces(
    labelled.stations.filter(({ id }) => watched.has(id)),
    new Map(lab.patterns.flatMap(({ id, stays }) => stays.map(({ station }) => [id, station] as const))),
  );
  const swingStations = new Set(
    labelled.stations
      .filter((labelledStation) => labelledStation.swing_limit_kelvin_in_24_h !== undefined)
      .map(({ id }) => id),
  );
  const { name, starts, ends, truth } = labelled;
  return {
    name,
    lab,
    beginnings,
    score: scoreCase({ starts, ends, places, swingStations, truth }, beginnings),
    withoutSetting: [
      ...withoutSetting,
      ...refusedSettings(lab).map((value) => ({ station: '', fact: 'refused setting', value })),
    ],
  };
}
