// What every route is given: the running lab, the settings of the server and the parts that it shares.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { TakeTurn } from '../base/figure-turns.ts';
import type { AlarmWords } from '../../queries/alarm-words.ts';
import type { Audit } from './audit.ts';
import type { Authority, Pair } from '../https/authority.ts';
import type { LiveFeed } from '../live/live-feed.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { MakePaper } from '../../reports/night/paper-order.ts';
import type { ScryptCost } from '../sign-in/password.ts';
import type { SignIn } from '../sign-in/sign-in.ts';

export interface ServerOptions {
  /** Folder of the built screens; null serves the interface alone. */
  readonly webRoot: string | null;
  readonly alarmWords: AlarmWords;
  /** Sessions, keys and the audit trail are kept in it, beside the lab. */
  readonly database: LabDatabase;
  /** Whether the server listens on this machine only. */
  readonly loopback: boolean;
  /** Names under which the server is reached, without port; needed behind a proxy on the same machine. */
  readonly hostNames?: readonly string[];
  /** Host of the mail server that the program was started with; null or absent: none. */
  readonly mailAtStart?: string | null;
  /** Names of the machine itself; answered to when the server is on the network. */
  readonly machineNames?: readonly string[];
  /** Addresses of proxies whose word on host, scheme and client is taken. */
  readonly trustedProxies?: readonly string[];
  /** Serves HTTPS with this pair; absent: plain HTTP. */
  readonly tls?: Pair;
  /** The lab's own authority, handed out with its page. */
  readonly authority?: Authority | null;
  /** The certificate is trusted by everybody, so browsers are made to insist on HTTPS (RFC 6797). */
  readonly insistOnHttps?: boolean;
  /** Cost of a password hash; tests take a small one. */
  readonly passwordCost?: ScryptCost;
  /** Where log lines go; nothing personal is in them. Absent: no log. */
  readonly log?: { readonly level: string; readonly stream?: { write: (line: string) => void } };
  /** Screens on the live stream at once. */
  readonly mostLiveScreens?: number;
  /** Longest time that a request may take to arrive. */
  readonly requestSeconds?: number;
}

export interface ServerContext {
  readonly running: RunningLab;
  readonly options: ServerOptions;
  readonly feed: LiveFeed;
  readonly signIn: SignIn;
  readonly audit: Audit;
  readonly makePaper: MakePaper;
  readonly takeTurn: TakeTurn;
}
