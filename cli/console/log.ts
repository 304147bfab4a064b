// The log of the process: one line an event on stderr, as text that can be searched or as JSON. No name of a person,
// no address, key or text of a notice is in it: a log is copied about more freely than a database.

export const LOG_LEVELS = ['silent', 'warn', 'info', 'debug'] as const;
export type LogLevel = (typeof LOG_LEVELS)[number];
type LineLevel = Exclude<LogLevel, 'silent'>;

export const LOG_FORMATS = ['text', 'json'] as const;
export type LogFormat = (typeof LOG_FORMATS)[number];

export type LogFields = Readonly<Record<string, string | number | boolean | null | undefined>>;

export interface Log {
  readonly write: (level: LineLevel, event: string, fields?: LogFields) => void;
  /** Takes the lines of the web server (one JSON object each). */
  readonly requests: { readonly write: (line: string) => void };
}

export interface LogOptions {
  readonly level: LogLevel;
  readonly format: LogFormat;
  readonly now: () => number;
  readonly print: (line: string) => void;
}

const quoteSpaced = (value: string): string => (/^[^\s"=]+$/.test(value) ? value : JSON.stringify(value));

/** @example logLine('text', 0, 'info', 'alarm-raised', { station: 'pot-1' }) // '1970-01-01T00:00:00.000Z info alarm-raised station=pot-1\n' */
function logLine(format: LogFormat, at: number, level: LineLevel, event: string, fields: LogFields): string {
  const time = new Date(at).toISOString();
  const given = Object.entries(fields).filter(([, value]) => value !== undefined && value !== null);
  if (format === 'json') return `${JSON.stringify({ time, level, event, ...Object.fromEntries(given) })}\n`;
  return `${[time, level, event, ...given.map(([key, value]) => `${key}=${quoteSpaced(String(value))}`)].join(' ')}\n`;
}

export function openLog({ level, format, now, print }: LogOptions): Log {
  const write: Log['write'] = (lineLevel, event, fields = {}) => {
    if (LOG_LEVELS.indexOf(lineLevel) > LOG_LEVELS.indexOf(level)) return;
    print(logLine(format, now(), lineLevel, event, fields));
  };
  return { write, requests: { write: (line) => writeRequest(line, write) } };
}

interface RequestLine {
  readonly level: number;
  readonly msg?: string;
  readonly reqId?: string;
  readonly req?: { readonly method?: string; readonly path?: string };
  readonly res?: { readonly statusCode?: number };
  readonly responseTime?: number;
  readonly err?: { readonly type?: string; readonly message?: string; readonly stack?: string };
}

/** Levels of the web server's own lines. */
const WARN = 40;
const INFO = 30;

function writeRequest(line: string, write: Log['write']): void {
  const { level, msg = '', reqId, req, res, responseTime, err } = JSON.parse(line) as RequestLine;
  write(level >= WARN ? 'warn' : level >= INFO ? 'info' : 'debug', 'request', {
    id: reqId,
    method: req?.method,
    path: req?.path,
    status: res?.statusCode,
    milliseconds: responseTime === undefined ? undefined : Math.round(responseTime),
    message: msg,
    error: err?.type,
    reason: err?.message,
    stack: err?.stack,
  });
}
