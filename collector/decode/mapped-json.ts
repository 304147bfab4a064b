// JSON of any shape by the lab's own mappings. Every mapping that is on and matches the topic takes its value.

import { Pointer } from 'typebox/value';
import { filterParts, type PayloadMapping } from '../../lab/payload-mapping.ts';
import { failure, type Result, success } from '../../wax/result.ts';
import { MILLIS_PER_SECOND } from '../../wax/units.ts';
import { collectReadings, type GivenValue } from './collect-readings.ts';
import { parsedJson } from './json-document.ts';
import { inUnit, SENML_UNITS } from './measured-unit.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { utf8, withinSize } from './text.ts';

const NUMBER = /^\s*[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?\s*$/;

/** Own members of the document alone. */
const at = (document: unknown, pointer: string): unknown =>
  pointer === '' ? document : Pointer.Get(Object(document), pointer);

/** Devices also send numbers as text. */
const numberAt = (document: unknown, pointer: string): unknown => {
  const value = at(document, pointer);
  return typeof value === 'string' && NUMBER.test(value) ? Number(value) : value;
};

const MILLIS: Readonly<Record<NonNullable<PayloadMapping['timeFormat']>, (value: unknown) => number>> = {
  iso: (value) => (typeof value === 'string' ? Date.parse(value) : Number.NaN),
  seconds: (value) => (typeof value === 'number' ? value * MILLIS_PER_SECOND : Number.NaN),
  milliseconds: (value) => (typeof value === 'number' ? value : Number.NaN),
};

function givenValue(
  mapping: PayloadMapping,
  parts: readonly string[],
  document: unknown,
  receivedAt: number,
): Result<GivenValue> {
  const { unit, time, timeFormat = 'iso' } = mapping;
  const probe = mapping.probe.replaceAll(/\{(\d+)\}/g, (_, number) => parts[Number(number) - 1] ?? '');
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
    return success(parsedJson(text.value));
  } catch (error) {
    return failure('mapping-not-json', { reason: (error as Error).message.slice(0, 120) });
  }
}

/** Null when no mapping that is on matches the topic. */
export function decodeMapped(message: Message, mappings: readonly PayloadMapping[]): Decoded | null {
  const matching = mappings.flatMap((mapping) => {
    const parts = mapping.isOn ? filterParts(mapping.topic, message.topic) : null;
    return parts === null ? [] : [{ mapping, parts }];
  });
  if (matching.length === 0) return null;
  const document = parseDocument(message.payload);
  if (!document.ok) return { entries: [], rejections: [reject(message, document.problem)] };
  const outcomes = matching.map(({ mapping, parts }) =>
    collectReadings(message, mapping.gateway, [
      givenValue(mapping, parts, document.value, message.receivedAt),
    ]),
  );
  return {
    entries: outcomes.flatMap(({ entries }) => entries),
    rejections: outcomes.flatMap(({ rejections }) => rejections),
  };
}
