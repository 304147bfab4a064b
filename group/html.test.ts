import { expect, it } from 'vitest';
import { escapeHtml } from './html.ts';

it.each([
  ['a tag', '<b>North</b>', '&#60;b&#62;North&#60;/b&#62;'],
  ['a mark that reverses the direction', 'North\u202ehtuoS', 'North\ufffdhtuoS'],
  ['a blank without width', 'No\u200brth', 'No\ufffdrth'],
  ['letters of any script', 'می\u200cخواهم 北', 'می\u200cخواهم 北'],
])('a name with %s is written so that it shows as what it is', (_, name, written) => {
  expect(escapeHtml(name)).toBe(written);
});
