// The value of a Sparkplug metric as what it means to the lab: a reading of a probe, or what a device reports of itself.

import { failure, type Result, success } from '../../../wax/result.ts';
import type { GivenValue } from '../collect-readings.ts';
import type { GivenStatus } from '../device-status.ts';
import type { Message } from '../message.ts';
import type { EdgeNode, Meaning } from './edge-node.ts';
import { metricNumber, type SparkplugMetric } from './payload.ts';

/** Quality codes of a value as a property (3.0, 6.4.17): any other than this one is bad or stale. */
const GOOD_QUALITY = 192;

/** Of a device for each of its probes; of the node itself for those that have none of their own. */
export function readStatuses(
  node: EdgeNode,
  device: string | null,
  meaning: Meaning,
  metric: SparkplugMetric,
  { receivedAt }: Message,
): readonly GivenStatus[] {
  if (metric.isNull || typeof meaning === 'string' || !('figure' in meaning)) return [];
  const { figure, divisor } = meaning;
  const value = metricNumber(metric.value, metric.dataType ?? meaning.dataType);
  const owners = device === null ? [null] : node.probesOf(device);
  const millis = metric.timestamp ?? receivedAt;
  return value === null ? [] : owners.map((probe) => ({ probe, figure, value: value / divisor, millis }));
}

export function readValues(
  meaning: Meaning,
  metric: SparkplugMetric,
  payloadMillis: number | null,
  message: Message,
): readonly Result<GivenValue>[] {
  // No value is nothing wrong (3.0, 6.4.11): a sensor that has not measured yet, or does not any more.
  if (metric.isNull || typeof meaning === 'string' || 'figure' in meaning) return [];
  const { probe, convert, dataType } = meaning;
  const value = metricNumber(metric.value, metric.dataType ?? dataType);
  if (value === null || !Number.isFinite(value)) return [failure('value-not-a-number', { name: probe })];
  const millis = metric.timestamp ?? payloadMillis;
  const quality = metric.properties.get('Quality');
  return [
    success({
      probe,
      quantity: convert(value),
      millis: millis ?? message.receivedAt,
      isStamped: millis !== null,
      isDoubted: quality !== undefined && quality !== GOOD_QUALITY,
      isHistorical: metric.isHistorical,
    }),
  ];
}
