// A number and its unit stay on one line. Pure.

const UNITS =
  'days?|min|Tage?n?|°[CF]|µm|mm|cm|m|kWh|kW|W|mV|V|mA|A|k?Ω|GB|MB|kB|bytes?|Byte|kg|g|h|s|d|K|J|Hz|%';
const BEFORE_UNIT = new RegExp(`(?<=\\d) (?=(?:${UNITS})(?![\\p{L}\\p{N}]))`, 'gu');

/**
 * The text with a no-break space between each number and its unit.
 * @example bindUnits('96.4 °C in 12 min') // '96.4\u00a0°C in 12\u00a0min'
 */
export const bindUnits = (text: string): string =>
  /\d /.test(text) ? text.replace(BEFORE_UNIT, '\u00a0') : text;
