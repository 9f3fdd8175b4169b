/** How CSV is written, and its times; the same for runs and reports. */
export { csvRow, type CsvStyle } from '../../shared/format/csv.ts';
export { isoWithZone as timeText } from '../../shared/format/date.ts';
