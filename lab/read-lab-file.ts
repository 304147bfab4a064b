// Reads a lab file: YAML text to a Lab, or every problem with its line and column. Nothing is guessed and nothing
// is ignored: a field that the schema does not know is refused. Keys of older files are read, and noted.

import { Ajv, type ErrorObject } from 'ajv';
import { LineCounter, parseDocument } from 'yaml';
import { WAX_CLASS_IDS, type WaxClassId } from '../wax/classes/wax-class-id.ts';
import type { Lab, Weekday, WorkingHours } from './lab.ts';
import { labFileContradictions, type KnownRules } from './lab-file-checks.ts';
import { PERSON_DEFAULTS, UNCERTAINTY_UNTIL_CALIBRATED } from './lab-file-defaults.ts';
import { inFieldSpelling, keyOfField, waxValuesByKey } from './lab-file-keys.ts';
import { didYouMean, type LabFileProblem, type OldSpelling, type Path } from './lab-file-problem.ts';
import { LAB_FILE_SCHEMA } from './lab-file-schema.ts';
import { LabFileText } from './lab-file-text.ts';
import type { DescribedLab } from './described-lab-schema.ts';
import { DEFAULT_NOTIFICATION_PLAN } from './notification-plan.ts';

export type LabFileReading =
  | { readonly ok: true; readonly lab: Lab; readonly oldSpellings: readonly OldSpelling[] }
  | { readonly ok: false; readonly problems: readonly LabFileProblem[] };

const MOST_CHARACTERS = 1_000_000;

const isDay = (text: string): boolean =>
  /^\d{4}-\d{2}-\d{2}$/.test(text) && new Date(`${text}T00:00:00Z`).toJSON()?.startsWith(text) === true;
const isTimeZone = (text: string): boolean => {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    // Offsets such as +02:00 are understood too, but know no clock changes.
    return /^[A-Za-z]/.test(text);
  } catch {
    return false;
  }
};

const ajv = new Ajv({ allErrors: true, verbose: true, allowUnionTypes: true });
ajv.addFormat('date', isDay);
ajv.addFormat('time-zone', isTimeZone);
const fits = ajv.compile(LAB_FILE_SCHEMA);

/** @param rules the rules that stations may adjust; without them what a station says of rules is not checked. */
export function readLabFile(yaml: string, rules?: KnownRules): LabFileReading {
  const lines = new LineCounter();
  const whole = { path: '', line: 1, column: 1 };
  if (yaml.length > MOST_CHARACTERS) {
    const message = `the file has ${yaml.length} characters; a lab file has at most ${MOST_CHARACTERS}`;
    return { ok: false, problems: [{ code: 'lab-file-unreadable', ...whole, message }] };
  }
  const document = parseDocument(yaml, { lineCounter: lines, prettyErrors: false });
  if (document.errors.length > 0)
    return {
      ok: false,
      problems: document.errors.map(({ pos: [offset], message }) => {
        const { line, col: column } = lines.linePos(offset);
        return { code: 'lab-file-unreadable', path: '', line, column, message };
      }),
    };
  const text = new LabFileText(document, lines);
  const oldSpellings = text.respell();
  let content: unknown;
  try {
    content = document.toJS();
  } catch (error) {
    // An alias that refers to nothing, or that multiplies beyond reason.
    const message = error instanceof Error ? error.message : String(error);
    return { ok: false, problems: [{ code: 'lab-file-unreadable', ...whole, message }] };
  }
  if (!fits(content))
    return { ok: false, problems: (fits.errors ?? []).map((error) => problemOf(error, text)) };
  const unknownValues = unknownWaxValues(content as { wax_overrides?: FileOverrides }, text);
  if (unknownValues.length > 0) return { ok: false, problems: unknownValues };
  // Sound: the schema that the content fits differs from that of the described lab in the keys alone.
  const lab = labOf(inFieldSpelling(content) as DescribedLab);
  const problems = labFileContradictions(lab, rules).map(({ path, message }) =>
    text.problem('lab-file-contradiction', inKeys(path), message),
  );
  return problems.length > 0 ? { ok: false, problems } : { ok: true, lab, oldSpellings };
}

type FileOverrides = Partial<Readonly<Record<WaxClassId, Readonly<Record<string, number>>>>>;

const unknownWaxValues = (
  { wax_overrides = {} }: { readonly wax_overrides?: FileOverrides },
  text: LabFileText,
): readonly LabFileProblem[] =>
  WAX_CLASS_IDS.flatMap((id) => {
    const keys = [...waxValuesByKey(id).keys()];
    return Object.keys(wax_overrides[id] ?? {})
      .filter((key) => !keys.includes(key))
      .map((key) =>
        text.problem(
          'lab-file-contradiction',
          ['wax_overrides', id, key],
          `${id} has no such value${didYouMean(key, keys) || `; it has ${keys.join(', ')}`}`,
        ),
      );
  });

const inKeys = (path: Path): Path => path.map((part) => (typeof part === 'string' ? keyOfField(part) : part));

const pathOf = ({ instancePath }: ErrorObject): Path =>
  instancePath
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'))
    .map((part) => (/^\d+$/.test(part) ? Number(part) : part));

function problemOf(error: ErrorObject, text: LabFileText): LabFileProblem {
  const path = pathOf(error);
  const properties: Readonly<Record<string, unknown>> = error.parentSchema?.properties ?? {};
  if (error.keyword === 'additionalProperties') {
    const name = String(error.params.additionalProperty);
    const names = Object.keys(properties);
    const message = `there is no such field${didYouMean(name, names) || `; expected one of ${names.join(', ')}`}`;
    return text.problem('lab-file-unknown-field', [...path, name], message);
  }
  if (error.keyword === 'required') {
    const name = String(error.params.missingProperty);
    const message = `the field is missing; expected ${descriptionOf(properties[name])}`;
    return text.problem('lab-file-missing-field', [...path, name], message);
  }
  const description = descriptionOf(error.parentSchema);
  const choices: unknown = error.params.allowedValues;
  const given = JSON.stringify(error.data)?.slice(0, 80) ?? 'nothing';
  const expected = Array.isArray(choices) ? `${description}: one of ${choices.join(', ')}` : description;
  const near = Array.isArray(choices) ? didYouMean(error.data, choices.map(String)) : '';
  return text.problem('lab-file-wrong-value', path, `${given} is not what was expected: ${expected}${near}`);
}

const descriptionOf = (schema: unknown): string =>
  typeof schema === 'object' && schema !== null && 'description' in schema
    ? String(schema.description)
    : 'a value';

function labOf(file: DescribedLab): Lab {
  const { site, stations = [], probes = [], people = [], notificationPlan: plan, waxOverrides = {} } = file;
  const hours = (weekday: Weekday): WorkingHours[Weekday] =>
    (site.workingHours?.[weekday] ?? []).map((span) => {
      const [opens = '', closes = ''] = span.split('-');
      return [opens, closes];
    });
  return {
    site: {
      id: site.id,
      name: site.name,
      timeZone: site.timeZone,
      workingHours: {
        mon: hours('mon'),
        tue: hours('tue'),
        wed: hours('wed'),
        thu: hours('thu'),
        fri: hours('fri'),
        sat: hours('sat'),
        sun: hours('sun'),
      },
      holidays: site.holidays ?? [],
    },
    stations: stations.map(({ wax, window_celsius: window, ...station }) => {
      const [low, high] = window ?? [];
      return {
        ...station,
        wax: wax ?? null,
        ...(low !== undefined && high !== undefined && { window_celsius: [low, high] as const }),
      };
    }),
    probes: probes.map(({ id, gateway, station, correction_celsius, uncertainty_celsius, ...more }) => ({
      id,
      gateway,
      station: station ?? null,
      correction_celsius: correction_celsius ?? 0,
      uncertainty_celsius: uncertainty_celsius ?? UNCERTAINTY_UNTIL_CALIBRATED,
      ...more,
    })),
    charges: [],
    patterns: [],
    people: people.map((person) => ({ ...PERSON_DEFAULTS, ...person })),
    ...(plan !== undefined && {
      notificationPlan: {
        ...DEFAULT_NOTIFICATION_PLAN,
        ...plan,
        webhooks: (plan.webhooks ?? []).map((webhook) => ({ template: null, ...webhook })),
      },
    }),
    waxOverrides: Object.fromEntries(
      Object.entries(waxOverrides).flatMap(([wax, values]) => (values === undefined ? [] : [[wax, values]])),
    ),
  };
}
