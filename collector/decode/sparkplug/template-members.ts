// Members of a template (Sparkplug 3.0, chapter 6) as metrics that stand alone, so that a pot which a node describes as
// one thing is read like one whose figures are side by side.

import { DATA_TYPE, type SparkplugMetric } from './payload.ts';

/** Deeper than any device is built; ours. */
const MOST_LEVELS = 8;

/**
 * Each under the names of its template and its own, and of the template's time where it has none. `name` is the template's,
 * which data may leave to an alias. None of a definition, and none of what is nested too deep, which is left unread.
 * @example membersOf(template, 'Pots/1') // its member `Temperature` is the metric `Pots/1/Temperature`
 */
export function membersOf(
  whole: SparkplugMetric,
  name: string | null,
  level = 1,
): readonly SparkplugMetric[] {
  const { template } = whole;
  if (template === null || template.isDefinition || whole.isNull || name === null) return [];
  return template.members.flatMap((member) => {
    const named: SparkplugMetric = {
      ...member,
      name: `${name}/${member.name ?? ''}`,
      // Two templates of one kind may give their members the same ones.
      alias: member.alias === null ? null : `${name}/${member.alias}`,
      timestamp: member.timestamp ?? whole.timestamp,
      isHistorical: member.isHistorical || whole.isHistorical,
    };
    if (member.template !== null && level === MOST_LEVELS)
      return [{ ...named, template: null, dataType: DATA_TYPE.template }];
    return [named, ...membersOf(named, named.name, level + 1)];
  });
}
