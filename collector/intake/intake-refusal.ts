// Why intake could not start: what is wrong with the settings or the machine.

import { ProblemError } from '../../wax/problem-error.ts';

export type IntakeRefusalCode = 'broker-needs-login' | 'broker-port' | 'broker-authority';

export class IntakeRefusal extends ProblemError<IntakeRefusalCode> {}
