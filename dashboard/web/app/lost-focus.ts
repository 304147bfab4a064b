// Whoever works by keyboard stays where they were. An act disables its button while it is under way, or takes it away when it
// is done, and the browser lets the focus fall to the page: then it returns to the button, or to what is nearest to it.

const REACHED_BY_TAB = 'a[href], button:enabled, summary, input:enabled, select:enabled, textarea:enabled';
/** So long an act has to enable its button again. */
const UNDER_WAY_MILLIS = 1500;

/** What had the focus last and all that it lay in, from the inside out; empty when a person let it go. */
let last: readonly Element[] = [];
let isByKeyboard = false;
let waiting: ReturnType<typeof setTimeout> | undefined;

const withAncestors = (element: Element | null): readonly Element[] =>
  element === null ? [] : [element, ...withAncestors(element.parentElement)];

const isLost = (): boolean => isByKeyboard && last.length > 0 && document.activeElement === document.body;

const findReachable = (element: Element): Element | null =>
  element.matches(REACHED_BY_TAB) ? element : element.querySelector(REACHED_BY_TAB);

const giveBack = (): void => {
  if (!isLost()) return;
  const target = last
    .filter(({ isConnected }) => isConnected)
    .map(findReachable)
    .find((reached) => reached !== null);
  if (target instanceof HTMLElement) target.focus({ preventScroll: true });
};

/** An act that is under way has disabled what is nearest. */
const look = (): void => {
  if (!isLost()) return;
  clearTimeout(waiting);
  const nearest = last.find(({ isConnected }) => isConnected);
  if (nearest !== undefined && findReachable(nearest) === null)
    waiting = setTimeout(giveBack, UNDER_WAY_MILLIS);
  else giveBack();
};

/** From now on, as long as the page is open. */
export const returnLostFocus = (): void => {
  addEventListener('keydown', () => {
    isByKeyboard = true;
  });
  addEventListener('pointerdown', () => {
    isByKeyboard = false;
  });
  addEventListener('focusin', ({ target }) => {
    last = withAncestors(target as Element);
  });
  addEventListener('focusout', ({ target, relatedTarget }) => {
    const element = target as Element;
    // What is about to be taken away is still there when it loses the focus.
    queueMicrotask(() => {
      if (relatedTarget === null && element.isConnected && !element.matches(':disabled')) last = [];
    });
  });
  new MutationObserver(look).observe(document.body, {
    subtree: true,
    childList: true,
    attributeFilter: ['disabled'],
  });
};
