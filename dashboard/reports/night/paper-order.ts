// What is to be put on paper, as plain values: it is drawn in another thread (../paper).

import type { EvidenceReport } from '../../api/evidence.ts';
import type { NightSheet } from '../../api/night.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { PaperSize } from './pdf-paper.ts';

export type PaperOrder = (
  | { readonly kind: 'night'; readonly sheet: NightSheet }
  | { readonly kind: 'evidence'; readonly report: EvidenceReport }
) & { readonly reader: ReaderSettings; readonly timeZone: string; readonly size: PaperSize };

/** Returns the PDF; rejects when `signal` aborts, and then nothing more is drawn. */
export type MakePaper = (order: PaperOrder, signal: AbortSignal) => Promise<Buffer>;
