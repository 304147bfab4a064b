import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

// WCAG 2.2: relative luminance of sRGB, and the ratio of two of them; thresholds are not rounded.
const luminance = (hex: string): number => {
  const digits = hex.replace('#', '');
  const full = digits.length === 3 ? [...digits].map((digit) => digit + digit).join('') : digits;
  const channel = (start: number): number => {
    const value = Number.parseInt(full.slice(start, start + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4);
};
const contrast = (foreground: string, background: string): number => {
  const [lighter = 0, darker = 0] = [luminance(foreground), luminance(background)].sort((a, b) => b - a);
  return (lighter + 0.05) / (darker + 0.05);
};

const css = readFileSync(new URL('./tokens.css', import.meta.url), 'utf8');
/** Tokens of every rule whose selector names the theme, and of the rule that both share. */
const tokensOf = (theme: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    [...css.replace(/\/\*[\s\S]*?\*\//g, '').matchAll(/([^{}]+)\{([^}]*)\}/g)]
      .filter(([, selector]) => selector?.includes(theme) || selector?.trim() === ':root')
      .flatMap(([, , body]) => [...(body ?? '').matchAll(/--([\w-]+):\s*(#[0-9a-f]+);/g)])
      .map(([, name, value]) => [name ?? '', value ?? '']),
  );

describe('the contrast formula', () => {
  it('gives the known values on both sides of 4.5', () => {
    expect(contrast('#777', '#fff')).toBeCloseTo(4.48, 2);
    expect(contrast('#767676', '#fff')).toBeCloseTo(4.54, 2);
    expect(contrast('#000', '#fff')).toBeCloseTo(21, 6);
  });
});

const TEXT = ['ink', 'dim', 'urgent', 'high', 'medium', 'low'] as const;
const GROUNDS = ['ground', 'card', 'lane'] as const;
const FILLS = ['urgent-fill', 'high-fill', 'medium-fill', 'low-fill'] as const;

describe.each(['dark', 'light'])('the %s theme', (theme) => {
  const tokens = tokensOf(theme);
  const of = (name: string): string => tokens[name] ?? 'missing';
  it.each(TEXT.flatMap((text) => GROUNDS.map((ground) => [text, ground] as const)))(
    'carries %s as text on %s',
    (text, ground) => {
      expect(contrast(of(text), of(ground))).toBeGreaterThanOrEqual(4.5);
    },
  );
  it.each(FILLS)('carries text on %s', (fill) => {
    expect(contrast(of('on-fill'), of(fill))).toBeGreaterThanOrEqual(4.5);
  });
  it.each(GROUNDS)('shows edges, ceilings and the focus on %s', (ground) => {
    expect(contrast(of('edge'), of(ground))).toBeGreaterThanOrEqual(3);
    expect(contrast(of('focus'), of(ground))).toBeGreaterThanOrEqual(3);
  });
  it('carries inverted text', () => {
    expect(contrast(of('ground'), of('ink'))).toBeGreaterThanOrEqual(4.5);
  });
});
