// Why intake could not start: what is wrong with the settings or the machine, and what to do.

export type IntakeRefusalCode = 'broker-needs-login' | 'broker-port' | 'broker-authority';

export class IntakeRefusal extends Error {
  readonly code: IntakeRefusalCode;
  constructor(code: IntakeRefusalCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'IntakeRefusal';
    this.code = code;
  }
}
