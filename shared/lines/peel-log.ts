/**
 * What a log writes before each message: a time, a level, the name of a part, an arrow, a print mark. It is cut off before the line is
 * read, so that keys and columns stand where they do without the log.
 */
const prefixes = [
  // printed tables: '#> 12 10:41:03 408.'
  /^#>\s?/,
  // '[12:01:28][I][x:170]: '
  /^(?:\[[^[\]]{1,40}\]\s*){2,6}:?\s*/,
  // '19:12:08.690 -> '
  /^\d{1,2}:\d{2}:\d{2}(?:[.,]\d+)?\s*->\s?/,
  // '2031-02-03 11:22:33,123 INFO  gas.reader: '
  /^(?:\d{4}-\d\d-\d\d[T ])?\d{1,2}:\d{2}:\d{2}(?:[.,]\d+)?Z?\s+[[(<]?(?:TRACE|DEBUG|INFO|NOTICE|WARN(?:ING)?|ERROR)[\])>]?:?\s+(?:\[[^\]]*\]\s*:?\s*|[\w./-]+(?:\[\d+\])?:\s+|[\w./-]+\s+-\s+)?/i,
  // 'I (12345) gas: ', 'INFO:root:'
  /^[IWEDV] \(\d+\) [\w./-]+:\s+/,
  /^(?:TRACE|DEBUG|INFO|NOTICE|WARN(?:ING)?|ERROR):[\w.-]*:\s*/,
  // 'May  4 11:20:00 host part[12]: '
  /^[A-Z][a-z]{2}\s+\d{1,2} \d\d:\d\d:\d\d \S+ [\w./-]+(?:\[\d+\])?:\s+/,
] as const;

/** @returns the line without what its log wrote before it */
export function peelLog(text: string): string {
  for (const prefix of prefixes) {
    const found = prefix.exec(text);
    if (found !== null) return text.slice(found[0].length);
  }
  return text;
}
