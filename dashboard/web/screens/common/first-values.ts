// Which values of a wax a lab changes first, as they stand on a maker's sheet: the window, the ceiling, the flow, the
// expansion and how long a charge lasts.

/** Of a wax that no pot holds, the window in which it is worked. */
const WINDOWS = ['potWindow', 'workingWindow'];

/**
 * @param names dotted names of all values that the wax has
 * @returns at most six of them; of the flow the value of the warmest test
 */
export const firstValues = (names: readonly string[]): readonly string[] => {
  const window = WINDOWS.find((each) => names.includes(`${each}.low`));
  const flow = names.findLast((name) => name.startsWith('flow.'));
  return [
    `${window}.low`,
    `${window}.high`,
    'ceiling',
    flow ?? '',
    'expansion.0.coefficient',
    'doseAllowance',
  ].filter((name) => names.includes(name));
};
