// One purchase of wax: the maker's name as the lab types it, the lot, its expiry and what the maker's sheet states of it.

import type { WaxClassId } from '../wax/classes/wax-class-id.ts';
import type { WaxOverrides } from '../wax/wax-class.ts';

export interface WaxLot {
  readonly id: string;
  readonly wax: WaxClassId;
  /** Maker and brand, as the lab types them. */
  readonly maker: string;
  /** As it is printed on the pack. */
  readonly lot: string;
  /** The last day of use, `YYYY-MM-DD`; null: none is printed. */
  readonly expiresOn: string | null;
  /** From the maker's sheet, by dotted name of the value of the wax class. */
  readonly sheetValues: WaxOverrides;
  readonly recordedAt: string;
  readonly recordedBy: string;
}

/**
 * Whether its last day of use is over, by the lab's calendar.
 * @param today `YYYY-MM-DD`
 */
export const isExpired = ({ expiresOn }: WaxLot, today: string): boolean =>
  expiresOn !== null && expiresOn < today;
