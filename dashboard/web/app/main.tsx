// The page: loads the words, starts the live line, and shows the screen that the address names. Each screen is a
// script of its own, loaded when it is first needed.

import { effect } from '@preact/signals';
import { render } from 'preact';
import { Frame, loadPage } from './frame.tsx';
import { keepUnitsBesideNumbers } from './units-beside-numbers.ts';
import { loadMessages } from '../base/messages.ts';
import { loadSession, session } from '../live/session.ts';
import { settings, theme } from '../base/settings.ts';
import { line, startLive } from '../live/lab-state.ts';
// Each subset with its range of letters, so that only those of letters on the page are loaded.
import '@fontsource/barlow-semi-condensed/500.css';
import '@fontsource/barlow-semi-condensed/600.css';
import '../base/base.css';

keepUnitsBesideNumbers();
effect(() => {
  document.documentElement.dataset.theme = theme.value;
});
startLive();
let asked = loadSession();
// Opened without a network, it was not known who is signed in.
effect(() => {
  if (line.value === 'up') asked = asked.then(() => (session.peek() === null ? loadSession() : undefined));
});

const root = document.getElementById('screen');
let language = settings.value.language;
// The script of the screen beside the words, not after them.
void Promise.all([loadMessages(), loadPage(location.pathname)]).then(() => {
  if (root) render(<Frame />, root);
});
// A browser takes tens of milliseconds over its first clock and number. All is requested by now, and nothing has come.
Intl.DateTimeFormat();
Intl.NumberFormat();
effect(() => {
  if (settings.value.language === language) return;
  language = settings.value.language;
  void loadMessages();
});
