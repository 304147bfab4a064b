// Why this phone cannot receive alarms, the first reason first; null when it can. Pure over what the browser reports.

export interface PhoneFacts {
  readonly isPerson: boolean;
  readonly isSecure: boolean;
  readonly isIos: boolean;
  readonly isOnHomeScreen: boolean;
  readonly hasWorker: boolean;
  readonly hasPush: boolean;
  readonly permission: 'default' | 'granted' | 'denied';
}

export type Obstacle = 'insecure' | 'ios-home' | 'no-worker' | 'no-push' | 'not-signed-in' | 'denied';

export const phoneObstacle = (facts: PhoneFacts): Obstacle | null => {
  if (!facts.isSecure) return 'insecure';
  // There the push interface itself is missing until the page is on the home screen.
  if (facts.isIos && !facts.isOnHomeScreen) return 'ios-home';
  if (!facts.hasWorker) return 'no-worker';
  if (!facts.hasPush) return 'no-push';
  if (!facts.isPerson) return 'not-signed-in';
  return facts.permission === 'denied' ? 'denied' : null;
};
