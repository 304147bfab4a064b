// What a row of the audit trail changed: the fields that differ between before and after, as text.

export interface ChangedField {
  readonly field: string;
  readonly before: string | null;
  readonly after: string | null;
}

const fieldsOf = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? { ...value }
    : value === null || value === undefined
      ? {}
      : { '': value };

const textOf = (value: unknown): string | null =>
  value === undefined || value === null ? null : typeof value === 'string' ? value : JSON.stringify(value);

export const changedFields = (before: unknown, after: unknown): readonly ChangedField[] => {
  const [old, young] = [fieldsOf(before), fieldsOf(after)];
  return [...new Set([...Object.keys(old), ...Object.keys(young)])].flatMap((field) => {
    const pair = { field, before: textOf(old[field]), after: textOf(young[field]) };
    return pair.before === pair.after ? [] : [pair];
  });
};
