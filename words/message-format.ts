// The door to the message format library, which is CommonJS: what its types call the default export is the module.

import core from '@messageformat/core';
import moduleCompiler from '@messageformat/core/compile-module.js';

interface Format {
  /** @throws when the text is no MessageFormat */
  compile(text: string): (values: Readonly<Record<string, number | string>>) => string;
}

export const MessageFormat = core as unknown as new (locale: string) => Format;
/** The text of an ES module whose default export has a function for each message. */
export const compileToModule: (format: Format, messages: Readonly<Record<string, string>>) => string =
  moduleCompiler;
