// Reads a lab file: YAML text to a Lab, or every problem with its line and column. Nothing is guessed and nothing
// is ignored: a field that the schema does not know is refused.

import { Ajv, type ErrorObject } from 'ajv';
import { LineCounter, parseDocument } from 'yaml';
import type { Lab, Weekday, WorkingHours } from './lab.ts';
import { labFileContradictions, type KnownRules } from './lab-file-checks.ts';
import { PERSON_DEFAULTS, UNCERTAINTY_UNTIL_CALIBRATED } from './lab-file-defaults.ts';
import { didYouMean, LabFileText, type LabFileProblem, type Path } from './lab-file-problem.ts';
import { type LabFile, LabFileSchema } from './lab-file-schema.ts';
import { TELLING_DEFAULTS } from './telling.ts';

export type LabFileReading =
  | { readonly ok: true; readonly lab: Lab }
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
const fits = ajv.compile<LabFile>(LabFileSchema);

/** @param rules the rules that stations may adjust; without them what a station says of rules is not checked. */
export function readLabFile(text: string, rules?: KnownRules): LabFileReading {
  const lines = new LineCounter();
  const whole = { path: '', line: 1, column: 1 };
  if (text.length > MOST_CHARACTERS) {
    const message = `the file has ${text.length} characters; a lab file has at most ${MOST_CHARACTERS}`;
    return { ok: false, problems: [{ code: 'lab-file-unreadable', ...whole, message }] };
  }
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  if (document.errors.length > 0)
    return {
      ok: false,
      problems: document.errors.map(({ pos: [offset], message }) => {
        const { line, col: column } = lines.linePos(offset);
        return { code: 'lab-file-unreadable', path: '', line, column, message };
      }),
    };
  let content: unknown;
  try {
    content = document.toJS();
  } catch (error) {
    // An alias that refers to nothing, or that multiplies beyond reason.
    const message = error instanceof Error ? error.message : String(error);
    return { ok: false, problems: [{ code: 'lab-file-unreadable', ...whole, message }] };
  }
  const place = new LabFileText(document, lines);
  if (!fits(content))
    return { ok: false, problems: (fits.errors ?? []).map((error) => problemOf(error, place)) };
  const lab = labOf(content);
  const problems = labFileContradictions(lab, rules).map(({ path, message }) =>
    place.problem('lab-file-contradiction', path, message),
  );
  return problems.length > 0 ? { ok: false, problems } : { ok: true, lab };
}

const pathOf = ({ instancePath }: ErrorObject): Path =>
  instancePath
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'))
    .map((part) => (/^\d+$/.test(part) ? Number(part) : part));

function problemOf(error: ErrorObject, place: LabFileText): LabFileProblem {
  const path = pathOf(error);
  const properties: Readonly<Record<string, unknown>> = error.parentSchema?.properties ?? {};
  if (error.keyword === 'additionalProperties') {
    const name = String(error.params.additionalProperty);
    const names = Object.keys(properties);
    const message = `there is no such field${didYouMean(name, names) || `; expected one of ${names.join(', ')}`}`;
    return place.problem('lab-file-unknown-field', [...path, name], message);
  }
  if (error.keyword === 'required') {
    const name = String(error.params.missingProperty);
    const message = `the field is missing; expected ${descriptionOf(properties[name])}`;
    return place.problem('lab-file-missing-field', [...path, name], message);
  }
  const description = descriptionOf(error.parentSchema);
  const choices: unknown = error.params.allowedValues;
  const given = JSON.stringify(error.data)?.slice(0, 80) ?? 'nothing';
  const expected = Array.isArray(choices) ? `${description}: one of ${choices.join(', ')}` : description;
  const near = Array.isArray(choices) ? didYouMean(error.data, choices.map(String)) : '';
  return place.problem('lab-file-wrong-value', path, `${given} is not what was expected: ${expected}${near}`);
}

const descriptionOf = (schema: unknown): string =>
  typeof schema === 'object' && schema !== null && 'description' in schema
    ? String(schema.description)
    : 'a value';

function labOf(file: LabFile): Lab {
  const { site, stations = [], probes = [], people = [], telling, waxOverrides = {} } = file;
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
    ...(telling !== undefined && {
      telling: {
        ...TELLING_DEFAULTS,
        ...telling,
        webhooks: (telling.webhooks ?? []).map((webhook) => ({ template: null, ...webhook })),
      },
    }),
    waxOverrides: Object.fromEntries(
      Object.entries(waxOverrides).flatMap(([wax, values]) => (values === undefined ? [] : [[wax, values]])),
    ),
  };
}
