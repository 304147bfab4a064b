// The title of the page in the browser, kept up with what it is made of: a name that changes, the reader's language.

import { useSignalEffect } from '@preact/signals';

export const useTitle = (title: () => string): void =>
  useSignalEffect(() => {
    document.title = title();
  });
