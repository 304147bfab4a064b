// One alarm of a lab in a line: what, where and since when, or from when to when it was.

import type { GroupAlarm } from '../lab/group/group-message.ts';
import { messageOf } from '../words/load-languages.ts';
import { escapeHtml, instant, sayIn } from './html.ts';
import type { ReportedLab } from './lab-need.ts';

export const alarmLine = (
  alarm: GroupAlarm,
  { timeZone, stationNames }: Pick<ReportedLab, 'timeZone' | 'stationNames'>,
  language: string,
): string => {
  const say = sayIn(language, timeZone);
  const at = (instantText: string): string => instant(Date.parse(instantText), language, timeZone);
  const isOver = !alarm.active && alarm.cleared_at !== null;
  const parts = say(isOver ? 'group.alarm-over' : 'group.alarm', {
    priority: messageOf(language, `priority.${alarm.priority}`) ?? alarm.priority,
    name: messageOf(language, `rule.${alarm.rule}.name`) ?? alarm.rule,
    place: stationNames.get(alarm.subject) ?? alarm.subject,
    at: at(alarm.raised_at),
    ...(isOver && alarm.cleared_at !== null && { until: at(alarm.cleared_at) }),
  });
  const acknowledged =
    alarm.acknowledged && alarm.acknowledged_at !== null
      ? `, ${say('group.alarm-acknowledged', { at: at(alarm.acknowledged_at) })}`
      : '';
  return `<li data-priority="${escapeHtml(alarm.priority)}">${parts}${acknowledged}</li>`;
};
