// Headers that go with every answer. Browsers are made to insist on HTTPS (RFC 6797) only under a certificate that they
// trust anyway: under an authority of the lab's own it would lock out a phone that does not trust it yet.

import type { App } from './app.ts';

const HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "media-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; '),
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  // The phone scans labels with its camera; nothing else of the device is used.
  'permissions-policy': 'camera=(self), microphone=(), geolocation=(), payment=(), usb=()',
};

/** 180 days, renewed with every answer. */
const INSIST = 'max-age=15552000';

/** @param insistOnHttps whether browsers are made to come by HTTPS alone */
export const headersOfEveryAnswer = (insistOnHttps: boolean): Readonly<Record<string, string>> => ({
  ...HEADERS,
  ...(insistOnHttps && { 'strict-transport-security': INSIST }),
});

export const securityHeaders = (app: App, headers: Readonly<Record<string, string>>): void => {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(headers);
    // By the route that was found: the address may be written in other ways, such as with escaped letters.
    if (/^\/(api\/|metrics)/.test(request.routeOptions.url ?? request.url))
      reply.header('cache-control', 'no-store');
  });
};
