// What a page requests and reports as wrong, so that a test can wait until a screen is there and that nothing went wrong.

import type { Page, Request } from 'playwright-core';
import { expect } from 'vitest';

export interface PageWatch {
  /** Resolves when the screen is drawn and its requests are answered; fails when the console has an error since. */
  readonly expectLoaded: () => Promise<void>;
}

/** Begun before the page goes anywhere. */
export const watchPage = (page: Page): PageWatch => {
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  const unanswered = new Set<Request>();
  const isAnswered = (request: Request) => unanswered.delete(request);
  page.on('request', (request) => {
    // The live line has no end.
    if (!request.url().includes('/api/live')) unanswered.add(request);
  });
  page.on('requestfinished', isAnswered);
  page.on('requestfailed', isAnswered);
  return {
    expectLoaded: async () => {
      await page.locator('h1, h2').first().waitFor({ state: 'attached' });
      await page.evaluate('document.fonts.ready.then(() => true)');
      await expect.poll(() => [...unanswered].map((request) => request.url())).toEqual([]);
      expect(complaints.splice(0)).toEqual([]);
    },
  };
};
