// The facts of one field of a form, by its path in the body. Pure.

import type { FieldFacts, FormFields } from '../../api/field-facts.ts';

/**
 * @param path for example `name` or `calibration/points/0/reading_celsius`
 * @throws when the form has no such field: form and interface have drifted apart
 */
export const fieldAt = (fields: FormFields, path: string): FieldFacts => {
  let facts: FieldFacts | undefined;
  for (const part of path.split('/')) {
    const isIndex = /^\d+$/.test(part);
    facts = isIndex ? facts?.items : (facts === undefined ? fields : facts.fields)?.[part];
    if (facts === undefined) throw new Error(`The form has no field ${path}.`);
  }
  if (facts === undefined) throw new Error(`The form has no field ${path}.`);
  return facts;
};
