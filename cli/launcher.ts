// npm starts this process by way of a shell and passes a signal to that shell alone; when the shell is gone, nobody is
// left who could end this process, so it ends itself.

const LOOK_MILLIS = 300;

/** Calls `work` once the process that started this one is gone; only below npm, elsewhere a parent may well leave. */
export function whenLauncherEnds(work: () => void): void {
  if (process.env.npm_lifecycle_event === undefined) return;
  const launcher = Number(process.env.WAXWARDEN_LAUNCHER ?? process.ppid);
  const timer = setInterval(() => {
    if (process.ppid === launcher) return;
    clearInterval(timer);
    work();
  }, LOOK_MILLIS);
  timer.unref();
}
