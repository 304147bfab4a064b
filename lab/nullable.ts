import { type TSchema, type TSchemaOptions, Type } from 'typebox';

/** The schema of a value that may be null. */
export const Nullable = <Schema extends TSchema>(schema: Schema, options: TSchemaOptions = {}) =>
  Type.Union([schema, Type.Null()], options);
