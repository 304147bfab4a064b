// A form whose values the program sends itself, so that the page stays.

/** @example <form onSubmit={submitWith(save)}> */
export const submitWith =
  (submit: () => unknown) =>
  (event: Event): void => {
    event.preventDefault();
    submit();
  };
