// Why a start with HTTPS was refused.

import { ProblemError } from '../../../wax/problem-error.ts';

type HttpsRefusalCode =
  | 'https-file-unreadable'
  | 'https-pair-mismatch'
  | 'https-certificate-expired'
  | 'authority-unreadable'
  | 'authority-expired'
  | 'authority-name-outside';

export class HttpsRefusal extends ProblemError<HttpsRefusalCode> {}
