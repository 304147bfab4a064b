// Errors on the wire, as RFC 9457 problem details: one catalogue of codes, one way to throw, one shape.
// It words no success and logs nothing.

import { type Static, Type } from 'typebox';

interface Kind {
  readonly status: number;
  readonly title: string;
}

/** Every code of the web server's own; docs/errors.md explains each. Refused acts bring the code of the rule that refused. */
export const PROBLEM_KINDS = {
  'wrong-request': { status: 400, title: 'The request does not have the expected form' },
  'malformed-json': { status: 400, title: 'The body is not JSON' },
  'malformed-lab-file': { status: 400, title: 'The lab file is not as it must be' },
  'sign-in-needed': { status: 401, title: 'Sign in first' },
  'wrong-name-or-password': { status: 401, title: 'The name or the password is wrong' },
  'confirm-password': { status: 403, title: 'Type your password again' },
  'link-refused': { status: 403, title: 'The link does not acknowledge this alarm' },
  'push-service-unknown': { status: 400, title: 'The push service is not known here' },
  'wrong-code': { status: 403, title: 'The code is wrong, was used or is too old' },
  'foreign-origin': { status: 403, title: 'The change came from a foreign page' },
  'foreign-host': { status: 421, title: 'The server does not go by this name' },
  'too-many-attempts': { status: 429, title: 'Too many attempts' },
  'password-refused': { status: 400, title: 'This password will not do' },
  'not-allowed': { status: 403, title: 'Your role may not do this' },
  'lab-contradiction': { status: 409, title: 'The change contradicts the rest of the lab' },
  'bent-stick-refused': { status: 409, title: 'The bent-stick test was refused' },
  'unknown-wax-class': { status: 404, title: 'There is no such wax class' },
  'unknown-pattern': { status: 404, title: 'There is no such pattern' },
  'station-in-use': { status: 409, title: 'The station is in use' },
  'no-charge': { status: 409, title: 'There is no charge in this pot' },
  'nothing-to-take-back': { status: 409, title: 'That cannot be taken back any more' },
  'not-a-pot': { status: 409, title: 'The station holds no molten wax' },
  'not-a-storage-place': { status: 409, title: 'Patterns do not lie here' },
  'pattern-ended': { status: 409, title: 'The pattern was invested, remade or discarded already' },
  'night-ahead': { status: 404, title: 'The night has not begun' },
  'night-not-over': { status: 409, title: 'The night is not over' },
  'sheet-changed': { status: 409, title: 'The figures of the sheet have changed' },
  'already-signed': { status: 409, title: 'The sheet is signed already' },
  'unknown-address': { status: 404, title: 'There is nothing at this address' },
  'unknown-station': { status: 404, title: 'There is no such station' },
  'unknown-probe': { status: 404, title: 'There is no such probe' },
  'unknown-alarm': { status: 404, title: 'There is no such alarm' },
  'unknown-phone': { status: 404, title: 'This phone is not subscribed' },
  'unknown-test': { status: 404, title: 'There is no such test' },
  'unknown-person': { status: 404, title: 'There is no such person' },
  'unknown-session': { status: 404, title: 'There is no such session' },
  'unknown-key': { status: 404, title: 'There is no such token or link' },
  'name-taken': { status: 409, title: 'The name is taken' },
  'last-manager': { status: 409, title: 'The lab would be without a manager' },
  'body-too-large': { status: 413, title: 'The body is too large' },
  'wrong-media-type': { status: 415, title: 'The body must be JSON' },
  'key-reused': { status: 422, title: 'The Idempotency-Key belongs to another act' },
  'act-running': { status: 409, title: 'The same act is being done' },
  'act-refused': { status: 409, title: 'That cannot be done now' },
  'too-many-screens': { status: 503, title: 'Too many screens are connected' },
  'store-away': { status: 503, title: 'The store of the readings does not answer' },
  'internal-error': { status: 500, title: 'Something went wrong inside' },
} as const satisfies Record<string, Kind>;

export type ProblemCode = keyof typeof PROBLEM_KINDS;

export const ProblemBody = Type.Object(
  {
    type: Type.String({ description: 'Where the code is explained, relative to this server' }),
    title: Type.String({ description: 'The kind of problem, the same for each of its kind' }),
    status: Type.Integer({ description: 'The HTTP status again' }),
    detail: Type.String({ description: 'What is wrong this time, where, and what to do' }),
    code: Type.String({ description: 'Stable name of the problem, for programs' }),
    errors: Type.Optional(
      Type.Array(
        Type.Object({
          pointer: Type.String({
            description: 'JSON pointer to the field; the first part says where it was',
          }),
          detail: Type.String(),
        }),
        { description: 'The fields that were refused' },
      ),
    ),
  },
  { $id: 'Problem', title: 'Problem', description: 'A problem as RFC 9457 describes it' },
);
export type ProblemBody = Static<typeof ProblemBody>;

export interface ProblemExtras {
  /** A code from below (a rule, the lab file) that is more exact than the kind. */
  readonly code?: string;
  readonly errors?: ProblemBody['errors'];
  readonly headers?: Readonly<Record<string, string>>;
}

/** Thrown by routes and hooks; the error handler turns it into the answer. */
export class HttpProblem extends Error {
  override readonly name = 'HttpProblem';
  readonly kind: ProblemCode;
  readonly extras: ProblemExtras;
  constructor(kind: ProblemCode, detail: string, extras: ProblemExtras = {}) {
    super(detail);
    this.kind = kind;
    this.extras = extras;
  }
}

export const problemBody = (kind: ProblemCode, detail: string, extras: ProblemExtras = {}): ProblemBody => {
  const { status, title } = PROBLEM_KINDS[kind];
  const code = extras.code ?? kind;
  return {
    type: `/api/#problem-${kind}`,
    title,
    status,
    detail,
    code,
    ...(extras.errors === undefined ? {} : { errors: extras.errors }),
  };
};
