// Every figure of the science with its standing and source, gathered from the data themselves: equal ones of several
// wax classes share a row.

import { BURN_SOURCE, BURNS_ON_RECORD, TOUCH_NOTICE_CELSIUS } from '../../wax/burn-caution.ts';
import { WAX_CLASSES } from '../../wax/classes/table.ts';
import { ALLOY_SHRINKAGE, INVESTMENT_EXPANSION } from '../../wax/relaxation/fit-budget.ts';
import { SURFACE_COEFFICIENT } from '../../wax/heat/soak-body.ts';
import { waxValueNames } from '../../wax/wax-class.ts';
import type { WaxClass } from '../../wax/classes/wax-properties.ts';
import { sourceInEnglish } from '../../words/source-in-english.ts';
import { fromMemory, isWaxValue, type WaxValue } from '../../wax/classes/wax-value.ts';

export interface FigureRow {
  readonly name: string;
  readonly value: string;
  readonly of: string;
  readonly standing: string;
  readonly source: string;
}

interface Words {
  readonly title: string;
  readonly unit: string;
  /** Shown = value times this. */
  readonly factor?: number;
}

/** Titles by the first part of a value's name; a new part without a title does not compile. */
const GROUPS: Readonly<Record<Exclude<keyof WaxClass, 'id' | 'name'>, Words>> = {
  workingWindow: { title: 'Working window', unit: '°C' },
  potWindow: { title: 'Pot window', unit: '°C' },
  annealWindow: { title: 'Dry heat of a softening cabinet', unit: '°C' },
  bathWindow: { title: 'Bath', unit: '°C' },
  ceiling: { title: 'Ceiling', unit: '°C' },
  transition: { title: 'Solid-solid transition or softening', unit: '°C' },
  melting: { title: 'Melting', unit: '°C' },
  storageMax: { title: 'Storage, most', unit: '°C' },
  flow: { title: 'Flow limits', unit: '%' },
  expansion: { title: 'Expansion', unit: '' },
  measuredTo: { title: 'Expansion measured up to', unit: '°C' },
  expansionLimits: { title: 'Expansion, most by specification', unit: '%', factor: 100 },
  solidificationShrinkage: { title: 'Volume lost on setting', unit: '%', factor: 100 },
  conductivity: { title: 'Thermal conductivity', unit: 'W/(m K)' },
  density: { title: 'Density', unit: 'kg/m³' },
  heatCapacity: { title: 'Heat capacity', unit: 'J/(kg K)' },
  latentHeat: { title: 'Latent heat', unit: 'kJ/kg', factor: 1e-3 },
  kinetics: { title: 'Ageing in the pot', unit: '' },
  doseAllowance: { title: 'Dose allowance', unit: 'equivalent h' },
  relaxation: { title: 'Relaxation', unit: '' },
};

/** What a name means where the name of its group is not enough. */
const DETAIL: Readonly<Record<string, Words>> = {
  'expansion.coefficient': { title: 'coefficient', unit: '10⁻⁶/K', factor: 1e6 },
  'expansion.from': { title: 'from', unit: '°C' },
  'kinetics.activationEnergy': { title: 'activation energy', unit: 'kJ/mol', factor: 1e-3 },
  'kinetics.reference': { title: 'reference', unit: '°C' },
  'kinetics.evaporationEnthalpy': { title: 'enthalpy of evaporation', unit: 'kJ/mol', factor: 1e-3 },
  'relaxation.reference': { title: 'reference', unit: '°C' },
  'relaxation.tau': { title: 'time constant', unit: 'h', factor: 1 / 3600 },
  'relaxation.beta': { title: 'exponent', unit: '' },
  'relaxation.activationEnergy': { title: 'activation energy', unit: 'kJ/mol', factor: 1e-3 },
  'relaxation.frozenStrain.layered': { title: 'strain frozen in, layered', unit: '%', factor: 100 },
  'relaxation.frozenStrain.dipped': { title: 'strain frozen in, dipped', unit: '%', factor: 100 },
  'relaxation.frozenStrain.pressed': { title: 'strain frozen in, pressed', unit: '%', factor: 100 },
  'relaxation.frozenStrain.sheet': { title: 'strain frozen in, sheet', unit: '%', factor: 100 },
  'relaxation.spread.tauFactor': { title: 'spread of the time constant', unit: 'times' },
  'relaxation.spread.beta': { title: 'spread of the exponent, ±', unit: '' },
  'relaxation.spread.frozenStrainShare': { title: 'spread of the strain, ±', unit: '%', factor: 100 },
};

export interface FigureGroup {
  readonly title: string;
  readonly rows: readonly FigureRow[];
}

const writeFigure = (value: number, { unit, factor = 1 }: Words): string =>
  `${Number((value * factor).toPrecision(6))}${unit === '' ? '' : ` ${unit}`}`;

const valueAt = (thing: unknown, path: readonly string[]): unknown =>
  path.reduce<unknown>(
    (at, key) => (typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[key] : undefined),
    thing,
  );

function nameAndWords(wax: WaxClass, path: readonly string[], group: Words): { name: string; words: Words } {
  const [head = '', index = '', ...rest] = path;
  if (head === 'flow') {
    const limit = wax.flow[Number(index)];
    const side = rest[0] === 'atLeast' ? 'at least' : 'at most';
    return { name: `${limit?.test ?? ''} at ${limit?.celsius ?? ''} °C, ${side}`, words: group };
  }
  if (head === 'expansionLimits') {
    const limit = wax.expansionLimits?.[Number(index)];
    return { name: `${limit?.fromCelsius ?? ''} to ${limit?.toCelsius ?? ''} °C`, words: group };
  }
  if (head === 'expansion') {
    const words = DETAIL[`expansion.${rest[0] ?? ''}`] ?? group;
    return { name: `piece ${Number(index) + 1}, ${words.title}`, words };
  }
  const words = DETAIL[path.join('.')];
  return words === undefined ? { name: path.slice(1).join(' '), words: group } : { name: words.title, words };
}

/** The wax classes, grouped by kind of value. */
export function waxFigures(): FigureGroup[] {
  const classes = Object.values(WAX_CLASSES);
  return Object.entries(GROUPS).map(([key, group]) => {
    const rows = new Map<string, { row: Omit<FigureRow, 'of'>; of: string[] }>();
    for (const wax of classes)
      for (const dotted of waxValueNames(wax.id)) {
        const path = dotted.split('.');
        const value = valueAt(wax, path);
        if (path[0] !== key || !isWaxValue(value)) continue;
        const { name, words } = nameAndWords(wax, path, group);
        const row = {
          name,
          value: writeFigure(value.value, words),
          standing: value.standing,
          source: sourceInEnglish(value.source),
        };
        const same = JSON.stringify(row);
        const entry = rows.get(same) ?? { row, of: [] };
        entry.of.push(wax.name);
        rows.set(same, entry);
      }
    const names = [...new Set([...rows.values()].map((each) => each.row.name))];
    const ordered = names.flatMap((name) => [...rows.values()].filter((each) => each.row.name === name));
    return {
      title: group.title,
      rows: ordered.map(({ row, of }) => ({
        ...row,
        of: of.length === classes.length ? 'all classes' : of.join(', '),
      })),
    };
  });
}

const row = (name: string, { value, standing, source }: WaxValue, unit: string, of = ''): FigureRow => ({
  name,
  value: `${value} ${unit}`,
  of,
  standing,
  source: sourceInEnglish(source),
});

/** Figures that belong to no wax class. */
export const otherFigures = (): FigureGroup[] => [
  {
    title: 'Surface coefficients',
    rows: Object.entries(SURFACE_COEFFICIENT).map(([place, value]) =>
      row(place.replace('-', ' '), value, 'W/(m² K)'),
    ),
  },
  {
    title: 'Casting shrinkage of alloys, linear',
    rows: Object.entries(ALLOY_SHRINKAGE).map(([alloy, { percent, uncertainty }]) =>
      row(alloy.replaceAll('-', ' '), percent, `± ${Number(uncertainty.toPrecision(3))} %`),
    ),
  },
  {
    title: 'Expansion of investments, linear',
    rows: Object.entries(INVESTMENT_EXPANSION).flatMap(([investment, parts]) =>
      Object.entries(parts).map(([part, { percent, uncertainty }]) =>
        row(
          `${investment.replaceAll('-', ' ')}: ${part}`,
          percent,
          `± ${Number(uncertainty.toPrecision(3))} %`,
        ),
      ),
    ),
  },
  {
    title: 'Shortest time to a burn on record',
    rows: [
      ...(['liquid', 'surface'] as const).flatMap((contact) =>
        BURNS_ON_RECORD[contact].map(([celsius, seconds]) =>
          row(`${contact} at ${celsius} °C`, fromMemory(seconds, BURN_SOURCE[contact]), 's'),
        ),
      ),
      row('touch notice above', TOUCH_NOTICE_CELSIUS, '°C'),
    ],
  },
];
