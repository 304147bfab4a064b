// Draws one document and ends.

import { parentPort, workerData } from 'node:worker_threads';
import { evidencePdf } from '../evidence/evidence-pdf.ts';
import type { PaperOrder } from '../night/paper-order.ts';
import { nightPdf } from '../night/sheet-pdf.ts';
import { sheetWords } from '../night/sheet-words.ts';

const order: PaperOrder = workerData;
const words = sheetWords(order.reader, order.timeZone);
const pdf =
  order.kind === 'night'
    ? await nightPdf(order.sheet, words, order.size)
    : await evidencePdf(order.report, words, order.size);
parentPort?.postMessage(pdf);
