import { before, edits } from './recipe.mjs';

const DECODER = `// \`wax/{site}/{gateway}/{probe}/millicelsius\`: whole thousandths of a degree, as kernels of small computers print them.

import { problem } from '../../wax/result.ts';
import type { Decoded, Message } from './message.ts';
import { decodePlainNumber } from './plain-number.ts';
import { reject } from './reject.ts';
import { utf8, withinSize } from './text.ts';

const WHOLE = /^-?\\d{1,7}$/;

export const decodeMillicelsius = (message: Message, gateway: string, probe: string): Decoded => {
  const sized = withinSize(message.payload);
  const text = sized.ok ? utf8(sized.value) : sized;
  if (!text.ok) return { entries: [], rejections: [reject(message, text.problem)] };
  const digits = text.value.trim();
  if (!WHOLE.test(digits))
    return { entries: [], rejections: [reject(message, problem('number-expected', {}, digits))] };
  const payload = new TextEncoder().encode(String(Number(digits) / 1000));
  return decodePlainNumber({ ...message, payload }, gateway, probe);
};
`;

const TEST = `import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { decodeMessage } from './decode-message.ts';

const decode = (payload: string) =>
  decodeMessage({
    topic: 'wax/lab-1/gw/pot-1/millicelsius',
    payload: new TextEncoder().encode(payload),
    receivedAt: epochMillis(Date.UTC(2026, 5, 1, 8)),
    delivery: 'live',
    site: 'lab-1',
  });

describe('a payload of thousandths of a degree', () => {
  it('is one reading in degrees Celsius', () => {
    const [entry] = decode('61500').entries;
    expect(entry).toMatchObject({ kind: 'readings', readings: [{ probe: 'pot-1', celsius: 61.5 }] });
  });

  it.each(['61.5', 'warm', '6e4', '12345678'])('goes to quarantine when it is "%s"', (payload) => {
    expect(decode(payload).rejections).toMatchObject([{ code: 'number-expected' }]);
  });
});
`;

/** @type {import('./recipe.mjs').Recipe} */
export const payloadFormat = {
  name: 'payload format',
  example: 'whole thousandths of a degree on a topic `.../millicelsius`',
  most: null,
  steps: [
    {
      path: 'collector/decode/millicelsius.ts',
      does: 'the decoder: bytes in, readings and rejections out, no clock, no network',
      edit: () => DECODER,
    },
    {
      path: 'collector/decode/formats.ts',
      does: 'its row: the levels of its topic and the decoder',
      edit: edits(
        before('import { decodePlainNumber }', "import { decodeMillicelsius } from './millicelsius.ts';\n"),
        before(
          "  'SenML JSON': {",
          `  'thousandths of a degree': {
    levels: ['+', '+', 'millicelsius'],
    decode: (message, parts) => decodeMillicelsius(message, part(parts, 0), part(parts, 1)),
  },
`,
        ),
      ),
    },
    {
      path: 'collector/decode/millicelsius.test.ts',
      does: 'what it takes and what goes to quarantine, with both sides of every edge',
      edit: () => TEST,
    },
    {
      path: 'docs/connect-a-probe.md',
      does: 'its row among the topics; bad input with an outcome of its own gets a row there and a case in `tests/rules/bad-input.test.ts`',
      edit: before(
        '| `wax/SITE/GATEWAY/senml`',
        '| `wax/SITE/GATEWAY/PROBE/millicelsius` | one whole number, thousandths of a degree Celsius | when it arrives |\n',
      ),
    },
  ],
  generated: [],
  tests: ['collector/decode', 'tests/rules/bad-input'],
};
