// The writer of an answer is made from its schema with the first answer that needs it. Made for all routes at the
// start, they are more than half of the time that the server needs to come up.

import { SerializerSelector } from '@fastify/fast-json-stringify-compiler';

type Factory = ReturnType<typeof SerializerSelector>;

export const lazySerializers: Factory = (schemas, options) => {
  const compile = SerializerSelector()(schemas, options);
  return (route) => {
    let write: ReturnType<typeof compile> | undefined;
    return (body) => {
      write ??= compile(route);
      return write(body);
    };
  };
};
