// Somebody who looks at the group's screen as a browser does: signs in, follows the live line and fetches the labs after
// each line; one fetch at a time.

export interface Watcher {
  /** When that text first stood among the labs, by performance.now(). */
  readonly seen: (text: string) => number | undefined;
  /** From now on it is looked for. */
  readonly expect: (text: string) => void;
  readonly stop: () => void;
}

export const watchScreen = async (address: string, key: string): Promise<Watcher> => {
  const entered = await fetch(`${address}/sign-in`, {
    method: 'POST',
    body: new URLSearchParams({ key }),
    redirect: 'manual',
  });
  const cookie = entered.headers.get('set-cookie')?.split(';')[0] ?? '';
  const headers = { cookie };
  const stopping = new AbortController();
  const live = await fetch(`${address}/live`, { headers, signal: stopping.signal });
  if (!live.ok || live.body === null) throw new Error(`/live answered ${live.status}`);
  const expected = new Set<string>();
  const seenAt = new Map<string, number>();
  let isBusy = false;
  let isDue = false;
  const load = async (): Promise<void> => {
    if (isBusy) {
      isDue = true;
      return;
    }
    isBusy = true;
    do {
      isDue = false;
      const body = await (await fetch(`${address}/labs`, { headers })).text();
      const at = performance.now();
      for (const text of expected)
        if (body.includes(text)) {
          seenAt.set(text, at);
          expected.delete(text);
        }
    } while (isDue);
    isBusy = false;
  };
  void (async () => {
    for await (const _ of live.body ?? []) void load();
  })().catch(() => {});
  return {
    seen: (text) => seenAt.get(text),
    expect: (text) => void expected.add(text),
    stop: () => stopping.abort(),
  };
};
