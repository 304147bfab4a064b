// What the interface says of a route, and who may ask it.

import type { FastifySchema } from 'fastify';
import type { Tag } from '../../open-api.ts';
import type { Need } from '../../sign-in/permissions.ts';

export const describeRoute = <Schema extends FastifySchema>(
  needs: Need,
  tag: Tag,
  summary: string,
  schema: Schema,
) => ({ config: { needs }, schema: { tags: [tag], summary, ...schema } });
