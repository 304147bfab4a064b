// How the lab is reached and how it reaches people, as a manager sets it while the program runs. What is not set here
// is as the program was started.

import type { LabDatabase } from './database.ts';
import type { MailSetting } from './mail-setting.ts';

const STEPS = [
  'CREATE TABLE connection_setting (id INTEGER PRIMARY KEY CHECK (id = 1), body TEXT NOT NULL);',
];

export interface ConnectionSetting {
  /** Null: the mail server with which the program was started, if any. */
  readonly mail: MailSetting | null;
  /** Names by which browsers reach the lab, beside those with which the program was started. */
  readonly hostNames: readonly string[];
}

const NOTHING_SET: ConnectionSetting = { mail: null, hostNames: [] };

export interface ConnectionSettings {
  readonly setting: () => ConnectionSetting;
  readonly save: (change: Partial<ConnectionSetting>) => void;
  readonly onChange: (listener: () => void) => () => void;
}

export function openConnectionSettings(database: LabDatabase): ConnectionSettings {
  database.migrate('lab/connection-settings', STEPS);
  const { writer } = database;
  const stored = writer.prepare<[], string>('SELECT body FROM connection_setting').pluck();
  const save = writer.prepare<[string]>(
    `INSERT INTO connection_setting (id, body) VALUES (1, ?)
     ON CONFLICT (id) DO UPDATE SET body = excluded.body`,
  );
  const read = (): ConnectionSetting => ({
    ...NOTHING_SET,
    ...(JSON.parse(stored.get() ?? '{}') as Partial<ConnectionSetting>),
  });
  const listeners = new Set<() => void>();
  let setting = read();
  return {
    setting: () => setting,
    save: (change) =>
      database.transaction(() => {
        save.run(JSON.stringify({ ...read(), ...change }));
        database.afterTransaction(() => {
          setting = read();
          for (const listener of listeners) listener();
        });
      }),
    onChange: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
