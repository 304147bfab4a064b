// Which figures of the wax classes were read in a published text, and which publications the remembered ones name.
// A figure may rise to "published" only when somebody has read it in the text that its source names.
import { describe, expect, it } from 'vitest';
import { WAX_CLASSES } from '../../wax/classes/table.ts';
import { waxValueNames } from '../../wax/wax-class.ts';
import { WAX_CLASS_IDS, type WaxClassId } from '../../wax/classes/wax-class-id.ts';
import { sourceInEnglish } from '../../words/source-in-english.ts';
import { isWaxValue, type WaxValue } from '../../wax/classes/wax-value.ts';

const valueAt = (id: WaxClassId, name: string): WaxValue => {
  const found = name
    .split('.')
    .reduce<unknown>(
      (inner, part) => (typeof inner === 'object' && inner !== null ? Reflect.get(inner, part) : undefined),
      WAX_CLASSES[id],
    );
  if (!isWaxValue(found)) throw new Error(`${id} has no value ${name}`);
  return found;
};
const values = WAX_CLASS_IDS.flatMap((id) =>
  waxValueNames(id).map((name) => ({ id, name, ...valueAt(id, name) })),
);

/** Read in: Powers and Craig 1978 (abstract), a general encyclopaedia on paraffin. */
const READ: readonly (readonly [ids: readonly WaxClassId[], name: string])[] = [
  [['corrective-impression', 'bite-registration'], 'flow.0.atLeast'],
  [['bite-registration'], 'flow.0.atMost'],
  [['paraffin'], 'density.solid'],
];
const wasRead = (id: WaxClassId, name: string): boolean =>
  READ.some(([ids, read]) => read === name && ids.includes(id));

/** What a remembered figure must name. */
const PUBLICATIONS =
  /ANSI\/ADA Specification No\. (4|24)|J Dent Res 44:1300, 1965|Craig, Restorative Dental Materials|CRC Handbook|Chickos and Hanshaw|federal wax specification|federal specification/;

describe('the standings of the wax figures', () => {
  it('are "published" for what was read, and for nothing else', () => {
    const published = values.filter(({ standing }) => standing === 'published');
    expect(published.map(({ id, name }) => `${id} ${name}`).sort()).toEqual(
      values
        .filter(({ id, name }) => wasRead(id, name))
        .map(({ id, name }) => `${id} ${name}`)
        .sort(),
    );
    expect(published).toHaveLength(4);
  });

  it('are "from memory" only with the publication named', () => {
    const remembered = values.filter(({ standing }) => standing === 'from memory');
    expect(remembered.length).toBeGreaterThan(100);
    for (const { id, name, source } of remembered)
      expect(sourceInEnglish(source), `${id} ${name}`).toMatch(PUBLICATIONS);
  });

  it('leave kinetics and relaxation of every wax below "published", as none is known for dental wax', () => {
    for (const { id, name, standing } of values)
      if (/^(kinetics|relaxation|doseAllowance)/.test(name) && name !== 'kinetics.evaporationEnthalpy')
        expect(`${id} ${name} ${standing}`).toBe(`${id} ${name} common practice`);
  });
});
