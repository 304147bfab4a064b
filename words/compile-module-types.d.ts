declare module '@messageformat/core/compile-module.js' {
  const compile: (format: object, messages: Readonly<Record<string, string>>) => string;
  export default compile;
}
