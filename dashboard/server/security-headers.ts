// Headers that go with every answer. Strict transport security is left to whoever holds the certificate.

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
  // The phone scans labels with its camera; nothing else of the device is asked for.
  'permissions-policy': 'camera=(self), microphone=(), geolocation=(), payment=(), usb=()',
};

export const securityHeaders = (app: App): void => {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(HEADERS);
    if (request.url.startsWith('/api/')) reply.header('cache-control', 'no-store');
  });
};
