import { createRegistersExtractor } from '../../reading/read-places.ts';
import { mostFrequent } from './cells.ts';
import type { LinesToLearn } from './lines-to-learn.ts';
import { makeColumn, type Table } from './table.ts';

const plain = { decimal: '.', thousands: 'none' } as const;

/** Hex pairs behind a colon, the check already taken off: 16-bit registers, high byte first. */
export function registersTables({ texts, withDigits }: LinesToLearn): Table[] {
  const hex = texts.filter((text) => /^\s*:?([0-9A-Fa-f]{2}){6,}\s*$/.test(text));
  if (hex.length < 3 || hex.length < withDigits * 0.4) return [];
  const length = mostFrequent(hex.map((text) => text.trim().length))?.item ?? 0;
  const lines = hex.filter((text) => text.trim().length === length);
  const bytes = (text: string): string => text.trim().replace(/^:/, '');
  const tables: Table[] = [];
  const total = bytes(lines[0] ?? '').length / 2;
  for (const skipBytes of [3, 2, 4, 6, 0, 1]) {
    if ((total - skipBytes) % 2 !== 0 || total - skipBytes < 4) continue;
    const count = (total - skipBytes) / 2;
    // Address, function and byte count, as a Modbus answer has them.
    const isCounted = skipBytes === 3 && Number.parseInt(bytes(lines[0] ?? '').slice(4, 6), 16) === count * 2;
    const slots = Array.from({ length: count }, (_, at) => ({ at }));
    const extractor = createRegistersExtractor({ kind: 'registers', skipBytes, signed: true }, slots);
    const rows = lines.map((text) => extractor.extract(text, 0)).map((found) => (found.kind === 'texts' ? found.texts : []));
    const columns = slots.map(({ at }) =>
      makeColumn({ at, name: '', texts: rows.map((row) => row[at] ?? ''), style: plain, scales: [0.1, 1, 0.01] }),
    );
    tables.push({
      shape: { kind: 'registers', skipBytes, signed: true },
      columns,
      rows: rows.length,
      share: Math.min(1, rows.length / Math.max(1, withDigits)),
      style: plain,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'hex-registers', count }],
      preference: isCounted ? 0.5 : -0.3,
    });
    if (isCounted) break;
  }
  return tables;
}
