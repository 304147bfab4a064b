import { describe, expect, it } from 'vitest';
import { sampleText } from './sample-text.ts';

const base64 = (bytes: readonly number[]) => Buffer.from(bytes).toString('base64');

describe('a message that could not be read', () => {
  it('is shown as text where it is text', () => {
    expect(sampleText(Buffer.from('heiß').toString('base64'))).toBe('heiß');
  });
  it('is shown byte for byte where it is not', () => {
    expect(sampleText(base64([0xff, 0x00, 0x41]))).toBe('ff 00 41');
  });
  it('never hides control characters', () => {
    expect(sampleText(base64([0x41, 0x07]))).toBe('41 07');
  });
});
