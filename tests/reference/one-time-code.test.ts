// Codes of the second factor against RFC 6238, appendix B, for SHA-1: the last six of its eight digits, because both
// are the same number modulo a power of ten. The secret there is the text 12345678901234567890.
import { expect, it } from 'vitest';
import { stepOfCode } from '../../dashboard/server/sign-in/second-factor.ts';
import { epochMillis } from '../../wax/units.ts';

const SECRET = 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ';

it.each([
  [59, 0x1, '94287082'],
  [1_111_111_109, 0x23523ec, '07081804'],
  [1_111_111_111, 0x23523ed, '14050471'],
  [1_234_567_890, 0x273ef07, '89005924'],
  [2_000_000_000, 0x3f940aa, '69279037'],
  [20_000_000_000, 0x27bc86aa, '65353130'],
])(
  'The code of second %d of RFC 6238 is of step %d, and is taken one step early and late but not two',
  (second, step, code) => {
    const stepAt = (seconds: number) => stepOfCode(SECRET, code.slice(2), epochMillis(seconds * 1000));
    expect(stepAt(second)).toBe(step);
    expect([stepAt(second - 30), stepAt(second + 30)]).toEqual([step, step]);
    expect([stepAt(second + 60), stepAt(second + 90)]).toEqual([null, null]);
  },
);

it.each(['94287082', '28708', '2870820', 'abcdef', '', '287 083'])(
  '%j is no code of second 59 of RFC 6238',
  (code) => {
    expect(stepOfCode(SECRET, code, epochMillis(59_000))).toBeNull();
  },
);
