// The one catalogue of problems: every code by which something is refused, with the area it belongs to and the HTTP
// status that a web answer with it has. A code that is not listed here does not compile. What each means and what to
// do about it stands once a language in words/*/errors.json; docs/errors.md is made from both.

/** Chapters of docs/errors.md. */
export type ProblemArea =
  | 'science'
  | 'settings'
  | 'lab-file'
  | 'store'
  | 'messages'
  | 'broker-and-journal'
  | 'web'
  | 'fields'
  | 'alarms'
  | 'sheets'
  | 'notices'
  | 'https';

export interface ProblemFacts {
  readonly area: ProblemArea;
  /** HTTP status of an answer with this problem; null where it never reaches the web. */
  readonly status: number | null;
}

const problems = <const Code extends string, const Status extends number | null>(
  area: ProblemArea,
  status: Status,
  codes: readonly Code[],
): Record<Code, ProblemFacts & { readonly status: Status }> => {
  const facts = { area, status };
  return Object.fromEntries(codes.map((code) => [code, facts])) as Record<
    Code,
    ProblemFacts & { readonly status: Status }
  >;
};

export const PROBLEMS = {
  ...problems('science', 409, [
    'not-a-temperature',
    'not-an-instant',
    'not-a-number',
    'times-unsorted',
    'series-empty',
    'negative-duration',
    'bad-kinetics',
    'no-day-to-compare',
    'wax-class-unknown',
    'wax-value-unknown',
    'wax-value-refused',
    'outside-probe-range',
    'superseded-platinum-curve',
    'unknown-platinum-curve',
    'not-a-resistance',
    'bad-thermistor-coefficients',
    'bad-thermistor-points',
    'bad-register-code',
    'bad-calibration-points',
    'calibration-points-near',
    'probe-too-far-off',
    'calibration-too-steep',
    'bad-uncertainty',
    'bad-risk',
    'thermostat-cannot-cycle',
    'too-few-cycles',
    'bad-pot',
    'bad-soak-body',
    'bad-lamp',
    'bad-duration',
    'never-soft',
    'bad-stick-temperature',
    'bad-opening',
    'too-few-readings',
    'fit-failed',
    'calibration-not-fixed',
    'bad-budget-item',
    'bad-length',
  ]),
  ...problems('settings', null, [
    'unknown-setting',
    'wrong-setting',
    'port-taken',
    'address-not-usable',
    'lab-file-not-opened',
  ]),
  ...problems('lab-file', 400, [
    'lab-file-refused',
    'lab-file-unreadable',
    'lab-file-too-large',
    'lab-file-unknown-field',
  ]),
  ...problems('lab-file', 409, [
    'hours-reversed',
    'hours-overlap',
    'id-repeated',
    'station-not-described',
    'corrected-twice',
    'charge-without-pot',
    'ceiling-without-heater',
    'window-reversed',
    'window-above-ceiling',
    'ceiling-above-wax',
    'rule-not-known',
    'absence-not-a-span',
    'steps-out-of-order',
    'template-not-json',
  ]),
  ...problems('store', 503, [
    'database-not-writable',
    'database-full',
    'database-busy',
    'database-corrupt',
    'database-newer',
    'store-away',
    'entry-set-aside',
  ]),
  ...problems('store', null, ['commit-failed', 'readings-waiting', 'readings-refused', 'readings-set-aside']),
  ...problems('messages', null, [
    'empty',
    'too-large',
    'not-utf8',
    'number-expected',
    'out-of-range',
    'probe-disconnected',
    'retained-without-time',
    'time-too-old',
    'time-in-future',
    'clock-ahead',
    'clock-not-set',
    'unit-missing',
    'unit-not-temperature',
    'value-not-a-number',
    'senml-not-json',
    'senml-not-a-pack',
    'senml-record',
    'senml-field',
    'senml-version',
    'senml-must-understand',
    'senml-name',
    'senml-two-values',
    'senml-no-value',
    'probe-id',
    'gateway-id',
    'gateway-state',
    'unknown-topic',
    'other-site',
    'reserved-topic',
    'probe-of-another-gateway',
    'contradicts-stored',
  ]),
  ...problems('broker-and-journal', null, [
    'broker-needs-login',
    'broker-port',
    'broker-authority',
    'journal-disk-full',
    'journal-not-writable',
    'data-folder-in-use',
    'data-folder-not-usable',
    'broker-not-connected',
    'broker-connection-failed',
    'broker-ended-connection',
    'broker-refuses-subscription',
  ]),
  ...problems('web', 400, ['wrong-request', 'malformed-json', 'password-refused']),
  ...problems('web', 401, ['sign-in-needed', 'wrong-name-or-password']),
  ...problems('web', 403, ['confirm-password', 'wrong-code', 'not-allowed', 'foreign-origin']),
  ...problems('web', 404, [
    'unknown-address',
    'unknown-station',
    'unknown-probe',
    'unknown-alarm',
    'unknown-pattern',
    'unknown-wax-class',
    'unknown-person',
    'unknown-session',
    'unknown-key',
  ]),
  ...problems('web', 409, [
    'name-taken',
    'last-manager',
    'lab-contradiction',
    'station-in-use',
    'not-a-pot',
    'no-charge',
    'nothing-to-take-back',
    'not-a-storage-place',
    'pattern-ended',
    'act-running',
  ]),
  ...problems('web', 413, ['body-too-large']),
  ...problems('web', 415, ['wrong-media-type']),
  ...problems('web', 421, ['foreign-host']),
  ...problems('web', 422, ['key-reused']),
  ...problems('web', 429, ['too-many-attempts']),
  ...problems('web', 500, ['internal-error']),
  ...problems('web', 503, ['too-many-screens']),
  ...problems('fields', 400, [
    'field-missing',
    'field-unknown',
    'field-wrong-type',
    'field-too-small',
    'field-too-large',
    'field-too-short',
    'field-too-long',
    'field-too-few',
    'field-too-many',
    'field-repeated',
    'field-wrong-form',
    'field-not-listed',
    'field-not-an-instant',
    'field-not-a-day',
    'field-not-a-time-zone',
    'field-not-an-address',
    'field-in-the-future',
    'field-too-old',
    'field-before-charge',
    'field-span-reversed',
    'field-span-too-long',
    'unknown-rule',
  ]),
  ...problems('alarms', 409, [
    'alarm-not-open',
    'alarm-hidden',
    'raised-again-since',
    'already-acknowledged',
    'reset-while-active',
    'reset-before-acknowledgement',
    'nothing-to-reset',
    'reason-missing',
    'shelve-end-missing',
    'shelve-too-long',
    'already-shelved',
    'not-shelved',
    'already-out-of-service',
    'not-out-of-service',
    'note-empty',
    'rule-parameter-refused',
    'rule-parameter-unknown',
    'rule-always-on',
  ]),
  ...problems('sheets', 404, ['night-ahead']),
  ...problems('sheets', 409, ['night-not-over', 'sheet-changed', 'already-signed']),
  ...problems('notices', 400, ['push-service-unknown']),
  ...problems('notices', 403, [
    'link-forged',
    'link-expired',
    'link-used',
    'link-other-alarm',
    'link-person-gone',
  ]),
  ...problems('notices', 404, ['unknown-phone', 'unknown-test']),
  ...problems('https', null, [
    'https-file-unreadable',
    'https-pair-mismatch',
    'https-certificate-expired',
    'certificate-not-renewed',
    'authority-unreadable',
    'authority-expired',
    'authority-name-outside',
  ]),
};

export type ProblemCode = keyof typeof PROBLEMS;

/** Those that a web answer can have. */
export type WebProblemCode = {
  [Code in ProblemCode]: (typeof PROBLEMS)[Code]['status'] extends number ? Code : never;
}[ProblemCode];
