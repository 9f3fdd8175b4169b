/** Curves as one table for a spreadsheet: a row per point, everything in the inner units, which the header names. */
import { BYTE_ORDER_MARK, csvRow, type CsvStyle } from '../format/csv.ts';
import { settlingChannels } from '../measurement/channel.ts';
import { quantities } from '../units/quantities.ts';
import type { WarmUpCurve } from './curve.ts';

/** @param watermark first row where any of the curves measured nothing */
export function curvesAsCsv(curves: readonly WarmUpCurve[], style: CsvStyle, watermark: string): string {
  const rows: string[] = [];
  if (curves.some(({ source }) => source === 'simulated')) rows.push(csvRow([watermark], style));
  rows.push(csvRow(['Curve', 'Source', 'Start', 'Outdoors [degC]', 'Tags', 'Channel', 'Unit', 'Time from light-off [s]', 'Value'], style));
  for (const { name, source, startState, outdoorC, tags, channels } of curves) {
    for (const channel of settlingChannels) {
      const { label, unit } = quantities[channel];
      const column = channels[channel];
      column?.seconds.forEach((at, i) =>
        rows.push(csvRow([name, source, startState, outdoorC, tags.join(' | '), label, unit, at, column.values[i]], style)),
      );
    }
  }
  return `${style === 'semicolon' ? BYTE_ORDER_MARK : ''}${rows.join('')}`;
}
