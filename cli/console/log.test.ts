import { describe, expect, it } from 'vitest';
import { type LogFormat, type LogLevel, openLog } from './log.ts';

const opened = (level: LogLevel, format: LogFormat = 'text') => {
  const lines: string[] = [];
  const now = () => Date.parse('2031-03-04T22:00:00Z');
  return { lines, log: openLog({ level, format, now, print: (line) => lines.push(line) }) };
};

describe('the log', () => {
  it('writes an event as one line with time, level, name and fields, whatever is in them', () => {
    const { lines, log } = opened('info');
    log.write('info', 'alarm-raised', { station: 'pot-1', reason: 'two\nlines "quoted"', nothing: null });
    expect(lines).toEqual([
      '2031-03-04T22:00:00.000Z info alarm-raised station=pot-1 reason="two\\nlines \\"quoted\\""\n',
    ]);
  });

  it('writes the same event as one JSON object where that is set', () => {
    const { lines, log } = opened('info', 'json');
    log.write('warn', 'broker', { state: 'unreachable', attempts: 3 });
    expect(lines.map((line) => JSON.parse(line))).toEqual([
      { time: '2031-03-04T22:00:00.000Z', level: 'warn', event: 'broker', state: 'unreachable', attempts: 3 },
    ]);
  });

  it.each<[LogLevel, string[]]>([
    ['silent', []],
    ['warn', ['warn']],
    ['info', ['warn', 'info']],
    ['debug', ['warn', 'info', 'debug']],
  ])('at the level %s writes %j', (level, expected) => {
    const { lines, log } = opened(level);
    for (const wanted of ['warn', 'info', 'debug'] as const) log.write(wanted, 'event');
    expect(lines.map((line) => line.split(' ')[1])).toEqual(expected);
  });

  it('turns a line of the web server into a line of its own', () => {
    const { lines, log } = opened('info');
    const line = { level: 30, msg: 'request completed', reqId: 'req-1', res: { statusCode: 204 } };
    log.requests.write(`${JSON.stringify({ ...line, responseTime: 3.7 })}\n`);
    expect(lines[0]).toContain('info request id=req-1 status=204 milliseconds=4');
  });
});
