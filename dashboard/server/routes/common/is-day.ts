// Text that passed the schema may still name no day: a 31st of February.

/** @param date `YYYY-MM-DD` */
export const isDay = (date: string): boolean => {
  const at = Date.parse(`${date}T00:00:00Z`);
  return !Number.isNaN(at) && new Date(at).toISOString().startsWith(date);
};
