// Reads a lab file: YAML text to a Lab, or every problem with its line and column. Nothing is guessed and nothing
// is ignored: a field that is not in the schema is refused. Keys of older files are read, and noted.

import { Format } from 'typebox/format';
import { Compile } from 'typebox/schema';
import { LineCounter, parseDocument } from 'yaml';
import { WAX_CLASS_IDS, type WaxClassId } from '../../wax/classes/wax-class-id.ts';
import { reasonOf } from '../../wax/problem-error.ts';
import type { DescribedLab } from './described-lab-schema.ts';
import type { Lab } from '../lab.ts';
import { isTimeZone } from '../time-zone.ts';
import { type LabFileContext, labFileContradictions } from './lab-file-checks.ts';
import { inFieldSpelling, keyOfField, waxValueKey, waxValuesByKey } from './lab-file-keys.ts';
import { type LabFileProblem, findNearestName, type OldSpelling, type Path } from './lab-file-problem.ts';
import { LAB_FILE_SCHEMA } from './lab-file-schema.ts';
import { shapeFault } from './lab-file-shape.ts';
import { LabFileText } from './lab-file-text.ts';
import { labOf } from './lab-of-description.ts';
import { type SchemaProblem, schemaProblems } from './schema-problems.ts';

export type LabFileReading =
  | { readonly ok: true; readonly lab: Lab; readonly oldSpellings: readonly OldSpelling[] }
  | { readonly ok: false; readonly problems: readonly LabFileProblem[] };

const MOST_CHARACTERS = 1_000_000;
/** Whoever mends these tries again; a file that is wrong throughout must not make an answer of megabytes. */
const MOST_PROBLEMS = 100;

/** By codes of the library, where its own words are for programmers. */
const OWN_REASONS: Readonly<Record<string, string>> = {
  RESOURCE_EXHAUSTION: 'Nested too deeply',
  MULTIPLE_DOCS: 'More than one document in the file',
};

Format.Set('time-zone', isTimeZone);
const schema = Compile(LAB_FILE_SCHEMA);

export function readLabFile(yaml: string, context?: LabFileContext): LabFileReading {
  const whole = { path: '', line: 1, column: 1 };
  const refuse = (problem: LabFileProblem): LabFileReading => ({ ok: false, problems: [problem] });
  if (yaml.length > MOST_CHARACTERS)
    return refuse({ code: 'lab-file-too-large', ...whole, values: { most: MOST_CHARACTERS } });
  const lines = new LineCounter();
  // Keys are compared below: the library compares each with each.
  const document = parseDocument(yaml, { lineCounter: lines, prettyErrors: false, uniqueKeys: false });
  const unreadable = (offset: number, reason: string): LabFileProblem => {
    const { line, col: column } = lines.linePos(offset);
    return { code: 'lab-file-unreadable', path: '', line, column, values: { reason } };
  };
  // Of a tag that is not known the library only warns, and takes its value for a text.
  const faults = [...document.errors, ...document.warnings];
  for (const { code, pos } of faults) {
    const reason = OWN_REASONS[code];
    if (reason !== undefined) return refuse(unreadable(pos[0], reason));
  }
  if (faults.length > 0)
    return {
      ok: false,
      problems: faults
        .slice(0, MOST_PROBLEMS)
        .map(({ pos: [offset], message }) => unreadable(offset, message)),
    };
  const fault = shapeFault(document.contents);
  if (fault !== null) return refuse(unreadable(fault.offset, fault.reason));
  const text = new LabFileText(document, lines);
  const oldSpellings = text.respell();
  let content: unknown;
  try {
    content = document.toJS();
  } catch (error) {
    // An alias that refers to nothing, or that multiplies beyond reason.
    return refuse({ code: 'lab-file-unreadable', ...whole, values: { reason: reasonOf(error) } });
  }
  const problems = contentProblems(content, text);
  if (problems.length > 0) return { ok: false, problems };
  // Sound: the schema that the content fits differs from that of the described lab in the keys alone.
  const lab = labOf(inFieldSpelling(content) as DescribedLab);
  const contradictions = labFileContradictions(lab, context)
    .slice(0, MOST_PROBLEMS)
    .map(({ path, ...problem }) => text.problem(inKeys(path), inFileNames(problem)));
  return contradictions.length > 0
    ? { ok: false, problems: contradictions }
    : { ok: true, lab, oldSpellings };
}

function contentProblems(content: unknown, text: LabFileText): readonly LabFileProblem[] {
  const [fits, errors] = schema.Errors(content);
  if (!fits)
    return schemaProblems(errors)
      .slice(0, MOST_PROBLEMS)
      .map((problem) => {
        const path = pathOf(problem.pointer);
        return text.problem(path, withNames(problem, path));
      });
  return unknownWaxValues(content as { readonly wax_overrides?: FileOverrides }, text);
}

const pathOf = (pointer: string): Path =>
  pointer
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'))
    .map((part) => (/^\d+$/.test(part) ? Number(part) : part));

/** The schema of the value at the path, as plain JSON. */
const schemaAt = (path: Path): Readonly<Record<string, unknown>> => {
  let at: Readonly<Record<string, unknown>> = { ...LAB_FILE_SCHEMA };
  for (const part of path) at = Object(typeof part === 'number' ? at.items : Object(at.properties)[part]);
  return at;
};

/** With the names that could replace an unknown one, and what form a text of the field has. */
function withNames({ code, values }: SchemaProblem, path: Path): Pick<LabFileProblem, 'code' | 'values'> {
  if (code === 'field-unknown') {
    const name = String(path.at(-1));
    const names = Object.keys(Object(schemaAt(path.slice(0, -1)).properties));
    return {
      code: 'lab-file-unknown-field',
      values: { name, near: findNearestName(name, names), names: names.join(', ') },
    };
  }
  const { 'x-form': form } = schemaAt(path);
  if (code === 'field-wrong-form' && typeof form === 'string') return { code, values: { form } };
  return { code, ...(values !== undefined && { values }) };
}

type FileOverrides = Partial<Readonly<Record<WaxClassId, Readonly<Record<string, number>>>>>;

const unknownWaxValues = (
  { wax_overrides = {} }: { readonly wax_overrides?: FileOverrides },
  text: LabFileText,
): readonly LabFileProblem[] =>
  WAX_CLASS_IDS.flatMap((wax) => {
    const keys = [...waxValuesByKey(wax).keys()];
    return Object.keys(wax_overrides[wax] ?? {})
      .filter((key) => !keys.includes(key))
      .map((name) =>
        text.problem(['wax_overrides', wax, name], {
          code: 'lab-file-unknown-field',
          values: { name, near: findNearestName(name, keys), names: keys.join(', ') },
        }),
      );
  });

const inKeys = (path: Path): Path => path.map((part) => (typeof part === 'string' ? keyOfField(part) : part));

/** A value of a wax as the file spells it. */
const inFileNames = ({ code, values }: Pick<LabFileProblem, 'code' | 'values'>) =>
  code === 'wax-value-refused' && typeof values?.name === 'string'
    ? { code, values: { ...values, name: waxValueKey(values.name) } }
    : { code, ...(values !== undefined && { values }) };
