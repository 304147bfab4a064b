import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { answerWords } from './answer-words.ts';

const alerts = join(import.meta.dirname, '../../../../../alerts/notices');
/** Every answer that stands word for word in the senders and in the outbox. */
const said = ['channels', 'outbox', '.']
  .flatMap((folder) =>
    readdirSync(join(alerts, folder))
      .filter((file) => /(?<!\.test)\.ts$/.test(file))
      .map((file) => readFileSync(join(alerts, folder, file), 'utf8')),
  )
  .flatMap((text) => [
    ...text.matchAll(/(?:\bdetail: |end\.run\(row\.createdAt, |TOO_LONG = )(['`])(.+?)\1/g),
  ])
  .map(([, , words = '']) => words.replace(/\$\{\w+\}/g, '503'));

describe('the last answer about a line', () => {
  it('is worded for everything that the senders say themselves', () => {
    expect(said.length).toBeGreaterThan(12);
    expect(said.filter((words) => answerWords(words) === null)).toEqual([]);
  });

  it('keeps the number that came with it', () => {
    expect(answerWords('answered 404')).toEqual({ key: 'outbox.answered', places: { status: '404' } });
  });

  it('is left alone when it is in words of somebody else', () => {
    expect(answerWords('connect ECONNREFUSED 127.0.0.1:25')).toBeNull();
    expect(answerWords('250 2.0.0 Ok: queued as 4F')).toBeNull();
    expect(answerWords('answered 404 and more')).toBeNull();
  });
});
