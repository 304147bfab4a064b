// What reads a request and what writes an answer is made from its schema when the first needs it, once for all routes
// that share the schema. Made for each route at the start, they are most of the time that the server needs to come up.

import { SerializerSelector } from '@fastify/fast-json-stringify-compiler';
import { TypeBoxValidatorCompiler } from '@fastify/type-provider-typebox';

type Factory = ReturnType<typeof SerializerSelector>;
type Validate = ReturnType<typeof TypeBoxValidatorCompiler>;

const writers = new WeakMap<object, ReturnType<ReturnType<Factory>>>();
const validators = { body: new WeakMap<object, Validate>(), others: new WeakMap<object, Validate>() };

/** Of schemas that refer to none but those that are added to every server of ours. */
export const lazySerializers: Factory = (schemas, options) => {
  const compile = SerializerSelector()(schemas, options);
  return (route) => (body) => {
    const write = writers.get(Object(route.schema)) ?? compile(route);
    writers.set(Object(route.schema), write);
    return write(body);
  };
};

export const lazyValidators: typeof TypeBoxValidatorCompiler = (route) => (value) => {
  // Values of an address are texts and are converted; those of a body are taken as they are.
  const made = route.httpPart === 'body' ? validators.body : validators.others;
  const validate = made.get(route.schema) ?? TypeBoxValidatorCompiler(route);
  made.set(route.schema, validate);
  return validate(value);
};
