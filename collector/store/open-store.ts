// Which engine keeps the readings, by the setting.

import type { LabDatabase } from '../../lab/database/database.ts';
import { openInfluxStore } from './influx-store.ts';
import { openSqliteStore } from './sqlite-store.ts';
import type { Store } from './store.ts';

export type StoreSetting =
  | { readonly kind: 'embedded' }
  /** Login and database are in the address; see influx-server.ts. */
  | { readonly kind: 'influx'; readonly url: string };

export interface StoreSurroundings {
  readonly database: LabDatabase;
  /** Id of the site, a tag of every series. */
  readonly site: string;
}

export function openStore(setting: StoreSetting, { database, site }: StoreSurroundings): Store {
  return setting.kind === 'embedded'
    ? openSqliteStore(database)
    : openInfluxStore(database, { url: setting.url, site });
}
