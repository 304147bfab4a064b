// The reading that set-up makes on request, to show that the way from the broker to the screen works. It comes from no
// probe, has a name that shows it, and is as warm as a room, so that no rule takes it for heat.

export const TEST_READING = { gateway: 'test', probe: 'test-1', celsius: 21.5 } as const;
