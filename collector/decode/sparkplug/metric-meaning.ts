// What a metric of a birth message means to the lab: the probe that it is, and the unit in which it measures. Sparkplug
// leaves both to convention: an engineering unit as a property, else a name that ends in the quantity.

import { BATTERY_UNITS, type StatusFigure } from '../device-status.ts';
import { idOfName } from '../identifier.ts';
import { type MeasuredQuantity, findUnit } from '../measured-unit.ts';
import { DATA_TYPE, type SparkplugMetric } from './payload.ts';

export interface MetricMeaning {
  readonly probe: string;
  readonly convert: (value: number) => MeasuredQuantity;
  readonly dataType: number | null;
}

/** A metric by which a device reports of itself. */
export interface StatusMeaning {
  readonly figure: StatusFigure;
  /** Its values are divided by it. */
  readonly divisor: number;
  readonly dataType: number | null;
}

/** Property keys in use for the unit, in lower case and without separators. */
const UNIT_KEYS = new Set(['engunit', 'engunits', 'engineeringunit', 'engineeringunits', 'unit', 'units']);

/** Last parts of a name that show what is measured, with the unit that is meant where none is given. */
const QUANTITY_UNITS: ReadonlyMap<string, string> = new Map([
  ['celsius', 'Cel'],
  ['degc', 'Cel'],
  ['temperature', 'Cel'],
  ['temp', 'Cel'],
  ['kelvin', 'K'],
  ['fahrenheit', 'Far'],
  ['degf', 'Far'],
  ['ohms', 'Ohm'],
  ['resistance', 'Ohm'],
  ['millivolts', 'mV'],
]);

type StatusUnits = typeof BATTERY_UNITS;
const SIGNAL_UNITS: StatusUnits = new Map([['dbm', { figure: 'signal_dbm', divisor: 1 }]] as const);

/** Last parts of a name that show what a device reports of itself, with the unit that is meant where none is given. */
const STATUS_FIGURES = new Map<string, readonly [StatusUnits, unit: string]>([
  ['battery', [BATTERY_UNITS, '%']],
  ['batterylevel', [BATTERY_UNITS, '%']],
  ['batterypercent', [BATTERY_UNITS, '%']],
  ['batterycharge', [BATTERY_UNITS, '%']],
  ['batteryvoltage', [BATTERY_UNITS, 'V']],
  ['batteryvolts', [BATTERY_UNITS, 'V']],
  ['rssi', [SIGNAL_UNITS, 'dBm']],
  ['signal', [SIGNAL_UNITS, 'dBm']],
  ['signalstrength', [SIGNAL_UNITS, 'dBm']],
]);

/** Metrics that every node has and that measure nothing of the lab (3.0, 6.4.6 and 6.4.16; common practice). */
const HOUSEKEEPING = /^(bdSeq$|(Node|Device) Control\/|(Node|Device) Info\/|Properties\/)/;

const NUMBERS: ReadonlySet<number> = new Set([
  DATA_TYPE.int8,
  DATA_TYPE.int16,
  DATA_TYPE.int32,
  DATA_TYPE.int64,
  DATA_TYPE.uint8,
  DATA_TYPE.uint16,
  DATA_TYPE.uint32,
  DATA_TYPE.uint64,
  DATA_TYPE.float,
  DATA_TYPE.double,
]);

const unitProperty = ({ properties }: SparkplugMetric): string | null => {
  for (const [key, value] of properties)
    if (UNIT_KEYS.has(key.toLowerCase().replaceAll(/[\s_]/g, '')) && typeof value === 'string') return value;
  return null;
};

/** What a lab has no use for, whatever it is called. */
const QUIET: ReadonlySet<number> = new Set([
  DATA_TYPE.boolean,
  DATA_TYPE.dateTime,
  DATA_TYPE.uuid,
  DATA_TYPE.file,
]);
const TEXTS: ReadonlySet<number> = new Set([DATA_TYPE.string, DATA_TYPE.text]);

/** Device and name as one probe id; a quantity at the end adds nothing to it. */
function probeOf(device: string | null, parts: readonly string[], quantityIsLast: boolean): string {
  const all = device === null ? parts : [device, ...parts];
  const naming = quantityIsLast && all.length > 1 ? all.slice(0, -1) : all;
  return naming.map(idOfName).join('.');
}

/**
 * The meaning of a birth's metric. `housekeeping` where it is no measurement, `other` where it is a number that
 * is no temperature, so that a misspelt unit can be reported, and `unread` where it may hold one and is not read.
 * @example metricMeaning('pot-1', metricNamed('Temperature')) // { probe: 'pot-1', convert: as Celsius }
 */
export function metricMeaning(
  device: string | null,
  metric: SparkplugMetric,
): MetricMeaning | StatusMeaning | 'housekeeping' | 'other' | 'unread' {
  const { name, dataType, template } = metric;
  if (name === null || HOUSEKEEPING.test(name) || QUIET.has(dataType ?? 0)) return 'housekeeping';
  // Its members are metrics of their own.
  if (template !== null)
    return template.isDefinition || template.members.length > 0 ? 'housekeeping' : 'unread';
  const parts = name.split('/').filter((part) => part.trim() !== '');
  const last = (parts.at(-1) ?? '').toLowerCase().replaceAll(/[\s_.-]/g, '');
  const quantity = QUANTITY_UNITS.get(last);
  const unit = unitProperty(metric) ?? quantity;
  const convert = unit === undefined ? undefined : findUnit(unit);
  if (dataType !== null && !NUMBERS.has(dataType))
    return TEXTS.has(dataType) && convert === undefined ? 'housekeeping' : 'unread';
  const [statusUnits, statusUnit = ''] = STATUS_FIGURES.get(last) ?? [];
  const status = statusUnits?.get((unit ?? statusUnit).trim().toLowerCase());
  if (status !== undefined) return { ...status, dataType };
  if (convert === undefined) return 'other';
  return { probe: probeOf(device, parts, quantity !== undefined), convert, dataType };
}
