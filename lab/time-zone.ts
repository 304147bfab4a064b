// Which text names a time zone of the site.

/** Names only: an offset such as +02:00 is understood by the platform too, but has no clock changes. */
export const isTimeZone = (text: string): boolean => {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    return /^[A-Za-z]/.test(text);
  } catch {
    return false;
  }
};
