import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type LabForTests, labForTests } from '../../../tests/lab-for-tests.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { ProbeView, StationLive } from '../../api/schemas.ts';
import type { KeptEvent } from './event-ring.ts';
import type { LiveClient } from './live-client.ts';
import { type LiveFeed, liveFeed } from './live-feed.ts';

const READER: ReaderSettings = { language: 'en', temperatureUnit: 'celsius', hourCycle: 'h23' };
const SPAN_MILLIS = 2000;

describe('the live feed', () => {
  let lab: LabForTests;
  let feed: LiveFeed;
  let made: string[];
  beforeEach(() => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    lab = labForTests();
    made = [];
    feed = liveFeed(
      lab.running,
      {
        station: ({ station, celsius }) => {
          made.push(`${station} ${celsius}`);
          return { id: station, celsius } as StationLive;
        },
        alarm: () => {
          throw new Error('no alarm is raised here');
        },
        probe: (id) => {
          made.push(id);
          return { id } as ProbeView;
        },
      },
      'abcdefabcdef',
    );
  });
  afterEach(async () => {
    feed.close();
    vi.useRealTimers();
    await lab.close();
  });

  const screen = (): LiveClient & { readonly taken: string[]; readonly newest: () => string } => {
    const taken: string[] = [];
    let newest = '';
    return {
      reader: READER,
      place: { isWall: false, owner: null },
      taken,
      newest: () => newest,
      send: (event: KeptEvent) => {
        const data = event.dataFor(READER);
        if (data !== null) taken.push(`${event.event} ${data}`);
      },
      notice: (_event, id) => {
        newest = id;
      },
      stillWelcome: () => true,
      end: () => {},
    };
  };
  const stand = (celsius: number): void => {
    lab.stand({ station: 'pot-1', celsius: celsius as never });
    lab.tell({ kind: 'probes', probes: ['probe-1'] });
    vi.advanceTimersByTime(SPAN_MILLIS);
  };

  it('makes nothing of stations and probes while no screen is connected', () => {
    stand(60);
    stand(61);
    expect(made).toEqual([]);
  });

  it('sends a screen that comes back the newest value alone of what nobody was sent meanwhile', () => {
    const first = screen();
    feed.join(first, null);
    stand(60);
    feed.leave(first);
    stand(61);
    stand(62);
    const back = screen();
    feed.join(back, first.newest());
    expect(first.taken).toEqual(['station {"id":"pot-1","celsius":60}', 'probe {"id":"probe-1"}']);
    expect(back.taken.slice(-2)).toEqual(['station {"id":"pot-1","celsius":62}', 'probe {"id":"probe-1"}']);
    expect(back.taken).not.toContain('station {"id":"pot-1","celsius":61}');
  });

  it('sends two screens the same event, which is made once', () => {
    const [wall, phone] = [screen(), screen()];
    feed.join(wall, null);
    feed.join(phone, null);
    stand(60);
    expect(phone.taken).toEqual(wall.taken);
    expect(made).toEqual(['pot-1 60', 'probe-1']);
  });
});
