// On which paper a sheet is requested, and the sheet on it for whoever still waits.

import type { ServerResponse } from 'node:http';
import { Type } from 'typebox';
import type { MakePaper, PaperOrder } from '../../../reports/night/paper-order.ts';

export const Paper = Type.Optional(Type.Enum(['a4', 'letter'], { default: 'a4' }));

/** Null when the requester is gone before it is drawn. */
export const paperFor = async (
  response: ServerResponse,
  makePaper: MakePaper,
  order: PaperOrder,
): Promise<Buffer | null> => {
  const gone = new AbortController();
  response.once('close', () => gone.abort());
  try {
    return await makePaper(order, gone.signal);
  } catch (error) {
    if (gone.signal.aborted) return null;
    throw error;
  }
};
