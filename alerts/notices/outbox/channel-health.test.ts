import { describe, expect, it } from 'vitest';
import { channelHealth } from './channel-health.ts';
import { ownWords } from './send-answer.ts';

const DEAD = ownWords('does not answer');
const WELL = ownWords('accepted');
const chat = { channel: 'webhook', address: 'chat' } as const;
const pager = { channel: 'webhook', address: 'pager' } as const;
const both = () => ['chat', 'pager'];

const healthWithSayings = () => {
  const said: string[] = [];
  const health = channelHealth((channel, works, { values }, address) =>
    said.push(`${channel} ${works ? 'works' : 'fails'}: ${address} ${values.text ?? ''}`.trim()),
  );
  return { health, said };
};

describe('the health of a channel', () => {
  it('is not restored by one receiver that works while another one fails', () => {
    const { health, said } = healthWithSayings();
    for (let tries = 0; tries < 4; tries += 1) {
      health.failed(chat, DEAD);
      health.worked(pager, WELL);
    }
    expect(said).toEqual(['webhook works: pager accepted', 'webhook fails: chat does not answer']);
    expect([health.isFailing('webhook', 'chat'), health.isFailing('webhook', 'pager')]).toEqual([
      true,
      false,
    ]);
    health.worked(chat, WELL);
    expect(said.slice(2)).toEqual(['webhook works: chat accepted']);
  });

  it('names the receiver that still fails when another one works again', () => {
    const { health, said } = healthWithSayings();
    health.refused(chat, DEAD);
    health.refused(pager, DEAD);
    health.worked(chat, WELL);
    expect(said).toEqual(['webhook fails: chat does not answer', 'webhook fails: pager does not answer']);
  });

  it('is restored when the receiver that failed is removed, and when the channel has none after a start', () => {
    const { health, said } = healthWithSayings();
    health.refused(chat, DEAD);
    health.keep(both);
    expect(said).toEqual(['webhook fails: chat does not answer']);
    health.keep((channel) => (channel === 'webhook' ? ['pager'] : channel === 'lamp' ? [] : ['somebody']));
    expect(said.slice(1)).toEqual(['webhook works: chat does not answer', 'lamp works:']);
  });

  it('is reported once after a start when it works, because an alarm may be open from before', () => {
    const { health, said } = healthWithSayings();
    health.worked(chat, WELL);
    health.worked(chat, WELL);
    expect(said).toEqual(['webhook works: chat accepted']);
  });

  it('of the broker does not hang on the topic, which each alarm has for itself', () => {
    const { health, said } = healthWithSayings();
    for (const address of ['wax/a/change/1', 'wax/a/change/2', 'wax/a/change/3'])
      health.failed({ channel: 'mqtt', address }, DEAD);
    health.worked({ channel: 'mqtt', address: 'wax/a/change/4' }, WELL);
    expect(said).toEqual(['mqtt fails:  does not answer', 'mqtt works:  accepted']);
  });
});
