// Where figures of rules are set: at one station, or once for the whole lab. Each is saved with the record that it
// belongs to, as that record stands.

import type { LabView, RuleView } from '../../../api/lab-bodies.ts';
import { type Answer, asRead, put } from '../../base/api.ts';
import { PLACES } from '../../base/places.ts';
import { siteBody } from './site-form.tsx';
import { stationBody } from './station-form.tsx';

export type OwnRules = NonNullable<LabView['site']['rules']>;

export interface RulePlace {
  /** Of the address: the id of the station; null for the whole lab. */
  readonly station: string | null;
  /** What the server calls it among the places of a figure. */
  readonly kind: string;
  readonly rules: OwnRules;
  /** Of the lab that they were read with. */
  readonly version: number;
  /** Saves other rules, read at `version`; without a reason it puts back what was there. */
  readonly save: (rules: OwnRules, version: number, reason?: string) => Promise<Answer<unknown>>;
}

/** In the address, for the whole lab instead of a station. */
export const WHOLE_LAB = 'lab';

/** The address of the rules at a station, or of those of the whole lab (null); or of one of them. */
export const rulesAddress = (station: string | null, rule = ''): string =>
  `${PLACES['set-up/rules']}?${new URLSearchParams({
    ...(station === null ? { scope: WHOLE_LAB } : { station }),
    ...(rule !== '' && { rule }),
  })}`;

export const rulePlace = ({ site, stations, version }: LabView, station: string | null): RulePlace | null => {
  if (station === null)
    return {
      station,
      kind: 'lab',
      rules: site.rules ?? {},
      version,
      save: (rules, since, reason) =>
        put('/api/site', { ...siteBody(site), rules, ...(reason && { reason }) }, asRead(since)),
    };
  const found = stations.find(({ id }) => id === station);
  if (found === undefined) return null;
  return {
    station,
    kind: found.kind,
    rules: found.rules ?? {},
    version,
    save: (rules, since, reason) =>
      put(
        `/api/stations/${station}`,
        { ...stationBody(found), rules, ...(reason && { reason }) },
        asRead(since),
      ),
  };
};

/** The figures of the rule that can have an effect there. */
export const figuresAt = (
  { parameters }: RuleView,
  { kind }: RulePlace,
): readonly (readonly [name: string, figure: RuleView['parameters'][string]])[] =>
  Object.entries(parameters).filter(([, { places }]) => places.includes(kind));
