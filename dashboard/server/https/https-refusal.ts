// Why a start with HTTPS was refused, in words that name the file or the setting.

export type HttpsRefusalCode =
  | 'https-file-unreadable'
  | 'https-pair-mismatch'
  | 'https-certificate-expired'
  | 'authority-unreadable'
  | 'authority-expired'
  | 'authority-name-outside';

export class HttpsRefusal extends Error {
  readonly code: HttpsRefusalCode;
  constructor(code: HttpsRefusalCode, message: string, cause?: unknown) {
    super(message, { cause });
    this.name = 'HttpsRefusal';
    this.code = code;
  }
}
