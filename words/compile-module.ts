// Messages made into the text of an ES module of functions, when the screens are built. What has no places stays text.

import { compileToModule, MessageFormat } from './message-format.ts';
import { argumentsOf } from './compile-message.ts';
import type { Messages } from './messages.ts';

/** As `caseName` does it; the module stands alone. */
const CASE_NAME = 'const caseName = (code) => String(code).replaceAll("-", "_");';

/** The module's default export: texts, and functions of their values, by key. */
export const compileModule = (messages: Messages, locale: string): string => {
  const plain: Record<string, string> = {};
  const filled: Record<string, string> = {};
  for (const [key, text] of Object.entries(messages))
    (argumentsOf(text).names.size === 0 && !text.includes("'{") ? plain : filled)[key] = text;
  const module = compileToModule(new MessageFormat(locale), filled)
    .replace('export default', 'const filled =')
    .replaceAll(/\bselect\((d\.\w+),/g, 'select(caseName($1),');
  return `${module}\n${CASE_NAME}\nexport default { ...${JSON.stringify(plain)}, ...filled };\n`;
};
