// The described lab as it crosses the wire. Fields and bounds are those of the lab file, so that what a screen
// may set and what a file may hold is the same.

import { type Static, Type } from 'typebox';
import { DescribedLabSchema } from '../../lab/lab-file/described-lab-schema.ts';
import { Figure, SourceView, WaxFigure } from './figures.ts';
import { closed, Nullable, Version } from './schema-parts.ts';

const Reason = Type.Optional(Type.String({ maxLength: 500, description: 'Why; kept in the audit trail' }));
const { site, stations, probes } = DescribedLabSchema.properties;
const { id: _siteId, ...siteFields } = site.properties;
const { id: _stationId, ...stationFields } = stations.items.properties;
const { id: _probeId, gateway: _gateway, ...probeFields } = probes.items.properties;

export const SiteBody = Type.Object({ ...siteFields, reason: Reason }, closed);
export const StationBody = Type.Object({ ...stationFields, reason: Reason }, closed);
export type StationBody = Static<typeof StationBody>;
export const ProbeBody = Type.Object({ ...probeFields, reason: Reason }, closed);
export type ProbeBody = Static<typeof ProbeBody>;
export const WaxOverridesBody = Type.Object(
  {
    values: Type.Record(Type.String(), Type.Number(), {
      description:
        "All of the lab's own values of the class, by dotted name; an empty object returns to the table",
    }),
    reason: Reason,
  },
  closed,
);

/** The lab as it is described, for the forms of set-up. */
export const LabView = Type.Object({
  isEmpty: Type.Boolean({ description: 'Nothing was described yet: first start' }),
  version: Version,
  site: Type.Object({
    id: Type.String(),
    name: Type.String(),
    timeZone: Type.String(),
    workingHours: Type.Record(Type.String(), Type.Array(Type.String({ description: 'HH:MM-HH:MM' }))),
    holidays: Type.Array(Type.String()),
    patternCare: site.properties.patternCare,
    rules: site.properties.rules,
  }),
  stations: Type.Array(Type.Object({ ...stations.items.properties })),
  probes: Type.Array(Type.Object({ ...probes.items.properties })),
  waxOverrides: Type.Record(Type.String(), Type.Record(Type.String(), Type.Number())),
});
export type LabView = Static<typeof LabView>;

export const WaxClassView = Type.Object({
  id: Type.String(),
  name: Type.String(),
  figures: Type.Record(Type.String(), WaxFigure, {
    description: 'By dotted name, e.g. `ceiling`, `workingWindow.low`; °C unless the name says otherwise',
  }),
  ownValues: Type.Record(Type.String(), Type.Number()),
});
export type WaxClassView = Static<typeof WaxClassView>;

/** What would hold at a station of a kind with a wax, before the station is there. */
export const LimitsView = Type.Object({
  windowLow: Nullable(Figure),
  windowHigh: Nullable(Figure),
  ceiling: Nullable(Figure),
});
export type LimitsView = Static<typeof LimitsView>;

export const TestReadingView = Type.Object({
  gateway: Type.String(),
  probe: Type.String(),
  celsius: Type.Number(),
});

/** Where gateways publish to, for the line to try. The password of the broker never crosses the wire. */
export const BrokerEndpointView = Type.Object({
  own: Type.Boolean({ description: "This program's own broker" }),
  host: Nullable(Type.String(), { description: 'Null where every address of the machine is listened on' }),
  port: Type.Integer(),
  user: Nullable(Type.String(), { description: 'The user that gateways name; null where none is asked for' }),
  tls: Type.Boolean({ description: 'By TLS alone' }),
});
export type BrokerEndpointView = Static<typeof BrokerEndpointView>;

export const RuleView = Type.Object({
  kind: Type.String(),
  priority: Type.String(),
  mayBeSwitchedOff: Type.Boolean(),
  formula: Type.String(),
  parameters: Type.Record(
    Type.String(),
    Type.Object({
      unit: Type.String(),
      default: Type.Number(),
      low: Type.Number(),
      high: Type.Number(),
      standing: Type.String(),
      source: SourceView,
      places: Type.Array(Type.String(), {
        description:
          'Kinds of station at which the figure can be set, or `lab`: it is set once, with the site',
      }),
    }),
  ),
});

export type RuleView = Static<typeof RuleView>;

export const LabFileBody = Type.Object(
  {
    yaml: Type.String({ maxLength: 1_000_000, description: 'The text of a lab file' }),
    dryRun: Type.Optional(Type.Boolean({ description: 'Only check it' })),
    reason: Reason,
  },
  closed,
);
export const LabFileView = Type.Object({
  version: Version,
  yaml: Type.String(),
  oldSpellings: Type.Optional(
    Type.Array(
      Type.Object({
        line: Type.Integer(),
        column: Type.Integer(),
        path: Type.String({ description: 'Where the key is, such as `stations[2].waxGrams`' }),
        oldKey: Type.String(),
        newKey: Type.String(),
      }),
      {
        description:
          'Keys of an older lab file that were read as their present ones; absent where there are none',
      },
    ),
  ),
});
export type LabFileView = Static<typeof LabFileView>;
