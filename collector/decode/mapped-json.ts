// JSON of any shape by the lab's own mappings. Every mapping that is on and matches the topic takes its value.

import { Pointer } from 'typebox/value';
import { filterParts, type PayloadMapping } from '../../lab/database/payload-mapping.ts';
import { failure, type Result, success } from '../../wax/result.ts';
import { MILLIS_PER_SECOND } from '../../wax/units.ts';
import { collectReadings, type GivenValue } from './collect-readings.ts';
import { BATTERY_UNITS, type GivenStatus } from './device-status.ts';
import { parseUnambiguousJson } from './json-document.ts';
import { isoMillis } from './iso-instant.ts';
import { inUnit, SENML_UNITS } from './measured-unit.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { isNumberText, utf8, withinSize } from './text.ts';

/** Members of the document alone: how many elements an array has is none of them. */
function at(document: unknown, pointer: string): unknown {
  if (pointer === '') return document;
  const holder = pointer.slice(0, pointer.lastIndexOf('/'));
  const isLength = pointer.endsWith('/length') && Array.isArray(at(document, holder));
  return isLength ? undefined : Pointer.Get(Object(document), pointer);
}

/** Devices also send numbers as text. */
const numberAt = (document: unknown, pointer: string): unknown => {
  const value = at(document, pointer);
  return typeof value === 'string' && isNumberText(value.trim()) ? Number(value) : value;
};

const MILLIS: Readonly<Record<NonNullable<PayloadMapping['timeFormat']>, (value: unknown) => number>> = {
  iso: (value) => (typeof value === 'string' ? isoMillis(value) : Number.NaN),
  seconds: (value) => (typeof value === 'number' ? value * MILLIS_PER_SECOND : Number.NaN),
  milliseconds: (value) => (typeof value === 'number' ? value : Number.NaN),
};

const probeNamed = ({ probe }: PayloadMapping, parts: readonly string[]): string =>
  probe.replaceAll(/\{(\d+)\}/g, (_, number) => parts[Number(number) - 1] ?? '');

function readValue(
  mapping: PayloadMapping,
  probe: string,
  document: unknown,
  receivedAt: number,
): Result<GivenValue> {
  const { unit, time, timeFormat = 'iso' } = mapping;
  const value = numberAt(document, mapping.value);
  if (value === undefined) return failure('mapping-no-value', { pointer: mapping.value });
  const quantity = inUnit(SENML_UNITS.get(unit), unit, probe, value);
  if (!quantity.ok) return quantity;
  if (time === undefined)
    return success({ probe, quantity: quantity.value, millis: receivedAt, isStamped: false });
  const stamp = timeFormat === 'iso' ? at(document, time) : numberAt(document, time);
  const millis = MILLIS[timeFormat](stamp);
  return Number.isFinite(millis)
    ? success({ probe, quantity: quantity.value, millis, isStamped: true })
    : failure('mapping-no-time', { pointer: time });
}

function parseDocument(payload: Uint8Array): Result<unknown> {
  const sized = withinSize(payload);
  const text = sized.ok ? utf8(sized.value) : sized;
  if (!text.ok) return text;
  try {
    return success(parseUnambiguousJson(text.value));
  } catch (error) {
    return failure('mapping-not-json', { reason: (error as Error).message.slice(0, 120) });
  }
}

/** What the document holds of battery and signal, where the mapping names their places. */
function readStatuses(
  { battery, batteryUnit = '%', signal }: PayloadMapping,
  probe: string,
  document: unknown,
  receivedAt: number,
): readonly GivenStatus[] {
  const status = (
    { figure, divisor }: Pick<GivenStatus, 'figure'> & { readonly divisor: number },
    pointer: string | undefined,
  ): readonly GivenStatus[] => {
    const given = pointer === undefined ? undefined : numberAt(document, pointer);
    const value = typeof given === 'number' ? given / divisor : given;
    return value === undefined || value === null ? [] : [{ probe, figure, value, millis: receivedAt }];
  };
  const unit = BATTERY_UNITS.get(batteryUnit.toLowerCase());
  return [
    ...(unit === undefined ? [] : status(unit, battery)),
    ...status({ figure: 'signal_dbm', divisor: 1 }, signal),
  ];
}

/** Null when no mapping that is on matches the topic. */
export function decodeMapped(message: Message, mappings: readonly PayloadMapping[]): Decoded | null {
  if (mappings.length === 0) return null;
  const matching = mappings.flatMap((mapping) => {
    const parts = mapping.isOn ? filterParts(mapping.topic, message.topic) : null;
    return parts === null ? [] : [{ mapping, parts }];
  });
  if (matching.length === 0) return null;
  const document = parseDocument(message.payload);
  if (!document.ok) return { entries: [], rejections: [reject(message, document.problem)] };
  const { receivedAt } = message;
  const outcomes = matching.map(({ mapping, parts }) => {
    const probe = probeNamed(mapping, parts);
    const statuses = readStatuses(mapping, probe, document.value, receivedAt);
    const value = readValue(mapping, probe, document.value, receivedAt);
    // Some devices send the battery level in separate messages.
    const isStatusAlone = statuses.length > 0 && !value.ok && value.problem.code === 'mapping-no-value';
    return collectReadings(message, mapping.gateway, isStatusAlone ? [] : [value], { statuses });
  });
  return {
    entries: outcomes.flatMap(({ entries }) => entries),
    rejections: outcomes.flatMap(({ rejections }) => rejections),
  };
}
