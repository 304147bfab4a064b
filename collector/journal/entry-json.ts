// An entry as JSON. Nearly all are readings with nothing special to them: written out field by field they take a third of
// the time of `JSON.stringify`, which was an eighth of what a message cost the intake thread.

import type { Entry } from '../../lab/entry.ts';

/** Nothing that JSON escapes. */
const PLAIN_TEXT = /^[\w.-]*$/;
const isPlainText = (text: string): boolean => PLAIN_TEXT.test(text);

/** An object with so many fields has no others than the ones that its type always has. */
function hasFields(object: object, fields: number): boolean {
  let found = 0;
  for (const _ in object) found += 1;
  return found === fields;
}
const FIELDS_OF_ENTRY = 4;
const FIELDS_OF_READING = 4;

/** The same value as `JSON.stringify` writes. */
export function entryJson(entry: Entry): string {
  if (entry.kind !== 'readings' || !hasFields(entry, FIELDS_OF_ENTRY) || !isPlainText(entry.gateway))
    return JSON.stringify(entry);
  const { gateway, readings, receivedAt } = entry;
  let list = '';
  for (const reading of readings) {
    const { probe, at, celsius, quality } = reading;
    if (!hasFields(reading, FIELDS_OF_READING) || !isPlainText(probe)) return JSON.stringify(entry);
    if (list !== '') list += ',';
    list += `{"probe":"${probe}","at":${at},"celsius":${celsius},"quality":"${quality}"}`;
  }
  return `{"kind":"readings","receivedAt":${receivedAt},"gateway":"${gateway}","readings":[${list}]}`;
}
