// Lots of wax, what their makers' sheets state, and the recall, as they cross the wire.

import { type Static, Type } from 'typebox';
import { WAX_CLASS_IDS } from '../../wax/classes/wax-class-id.ts';
import { closed, Instant, Nullable } from './schema-parts.ts';
import { WaxFigure } from './figures.ts';

const Day = Type.String({ format: 'date', description: 'A day, `YYYY-MM-DD`' });
const SheetValues = Type.Record(Type.String({ maxLength: 60 }), Type.Number(), {
  description: 'By dotted name of the value: `ceiling`, `workingWindow.low`, `expansion.0.coefficient`',
});

export const LotView = Type.Object({
  id: Type.String(),
  wax: Type.Object({ id: Type.String(), name: Type.String() }),
  maker: Type.String({ description: 'Maker and brand as the lab types them' }),
  lot: Type.String({ description: 'As it is printed on the pack' }),
  expiresOn: Nullable({ ...Day, description: 'The last day of use; null: none is printed' }),
  isExpired: Type.Boolean(),
  sheetValues: SheetValues,
  /** What can be taken from a sheet, as it counts for this lot. */
  figures: Type.Record(Type.String(), WaxFigure),
  recordedAt: Instant,
  recordedBy: Type.String(),
  isUsed: Type.Boolean({ description: 'A charge or a pattern holds its wax' }),
});
export type LotView = Static<typeof LotView>;

export const LotBody = Type.Object(
  {
    wax: Type.Enum([...WAX_CLASS_IDS], { description: 'Id of the wax class' }),
    maker: Type.String({ minLength: 1, maxLength: 80, pattern: '\\S' }),
    lot: Type.String({ minLength: 1, maxLength: 60, pattern: '\\S' }),
    expiresOn: Type.Optional(Nullable(Day)),
  },
  closed,
);
export const LotSheetBody = Type.Object({ values: SheetValues }, closed);
export type LotBody = Static<typeof LotBody>;

const RecalledPattern = Type.Object({
  id: Type.String(),
  caseReference: Type.String(),
  lot: Type.String({ description: 'Id of the lot' }),
  share: Type.Number({ description: 'Of its wax, 0 to 1' }),
  madeAt: Instant,
  /** Null where it ended or is out of the lab. */
  stationName: Nullable(Type.String()),
  fate: Nullable(Type.Object({ kind: Type.String(), at: Instant })),
});
const RecalledCharge = Type.Object({
  id: Type.String(),
  station: Type.String(),
  stationName: Type.String(),
  lot: Type.String(),
  share: Type.Number(),
  startedAt: Instant,
  endedAt: Nullable(Instant),
});
export const RecallView = Type.Object({
  lots: Type.Array(LotView),
  patterns: Type.Array(RecalledPattern, { description: 'Waiting ones first' }),
  charges: Type.Array(RecalledCharge, { description: 'Those in pots first' }),
});
export type RecallView = Static<typeof RecallView>;
