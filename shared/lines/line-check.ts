import type { LineCheck } from '../measurement/recipe.ts';
import { withoutPrinterCommands } from './clean-line.ts';
import { rejectionTexts } from '../words/core/lines.ts';

export type RealCheck = Exclude<LineCheck, { kind: 'none' }>;

/** Bytes as characters 0-255. Each returns the check as a number. */
type Algorithm = (text: string, from: number, to: number) => number;

const xor: Algorithm = (text, from, to) => {
  let sum = 0;
  for (let at = from; at < to; at++) sum ^= text.charCodeAt(at);
  return sum & 255;
};
const sum: Algorithm = (text, from, to) => {
  let total = 0;
  for (let at = from; at < to; at++) total += text.charCodeAt(at) & 255;
  return total & 255;
};
/** Two's complement of the sum. @source Modbus over serial line specification V1.02, 6.2.1 */
const lrc: Algorithm = (text, from, to) => -sum(text, from, to) & 255;

/** What each byte does to a cyclic check, worked out once. */
const tableOf = (step: (byte: number) => number): Uint16Array => Uint16Array.from({ length: 256 }, (_, byte) => step(byte));

const reflected = (polynomial: number, start: number): Algorithm => {
  const table = tableOf((byte) => {
    let crc = byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ polynomial : crc >>> 1;
    return crc;
  });
  return (text, from, to) => {
    let crc = start;
    for (let at = from; at < to; at++) crc = (crc >>> 8) ^ table[(crc ^ text.charCodeAt(at)) & 255]!;
    return crc;
  };
};
const forward = (polynomial: number, start: number): Algorithm => {
  const table = tableOf((byte) => {
    let crc = byte << 8;
    for (let bit = 0; bit < 8; bit++) crc = crc & 0x8000 ? ((crc << 1) ^ polynomial) & 0xffff : (crc << 1) & 0xffff;
    return crc;
  });
  return (text, from, to) => {
    let crc = start;
    for (let at = from; at < to; at++) crc = ((crc << 8) & 0xffff) ^ table[((crc >>> 8) ^ text.charCodeAt(at)) & 255]!;
    return crc;
  };
};

/** Two running sums modulo 255, the second in the high byte. @source Fletcher, IEEE Trans. Commun. COM-30 (1982) 247; RFC 1146 */
const fletcher16: Algorithm = (text, from, to) => {
  let low = 0;
  let high = 0;
  for (let at = from; at < to; at++) {
    low = (low + (text.charCodeAt(at) & 255)) % 255;
    high = (high + low) % 255;
  }
  return high * 256 + low;
};
/** Polynomial 07, start 0. @source ITU-T I.432.1 without its final mask (SMBus packet error code) */
const crc8Table = tableOf((byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit++) crc = crc & 0x80 ? ((crc << 1) ^ 7) & 255 : (crc << 1) & 255;
  return crc;
});
const crc8: Algorithm = (text, from, to) => {
  let crc = 0;
  for (let at = from; at < to; at++) crc = crc8Table[(crc ^ text.charCodeAt(at)) & 255] ?? 0;
  return crc;
};

/** @source CRC-16: polynomial A001 reflected, start FFFF (Modbus); 1021, start FFFF or 0 (CCITT as commonly used, XMODEM) */
export const algorithms: Record<RealCheck['kind'], Algorithm> = {
  xor,
  sum,
  lrc,
  crc8,
  fletcher16,
  'crc16-modbus': reflected(0xa001, 0xffff),
  'crc16-ccitt': forward(0x1021, 0xffff),
  'crc16-xmodem': forward(0x1021, 0),
};

export type CheckResult = { ok: true; body: string } | { ok: false; why: 'wrong-check' | 'missing-check'; detail: string };

const pairsToBytes = (text: string): string | undefined => {
  if (text.length % 2 !== 0 || !/^[0-9A-Fa-f]*$/.test(text)) return undefined;
  let bytes = '';
  for (let at = 0; at < text.length; at += 2) bytes += String.fromCharCode(Number.parseInt(text.slice(at, at + 2), 16));
  return bytes;
};

const missing: CheckResult = { ok: false, why: 'missing-check', detail: rejectionTexts.noCheck };

/** Where the check begins (its lead), or -1. */
function leadPlace(check: RealCheck, line: string): number {
  if (check.as === 'byte') return line.length - check.digits;
  if (check.lead === '') return line.length - check.digits;
  return line.lastIndexOf(check.lead);
}

function sentCheck(check: RealCheck, text: string): number | undefined {
  switch (check.as) {
    case 'byte':
      return text.length === 1 ? text.charCodeAt(0) : text.length === 2 ? text.charCodeAt(0) * 256 + text.charCodeAt(1) : undefined;
    case 'decimal':
      return /^\d+$/.test(text) && text.length <= check.digits ? Number(text) : undefined;
    case 'hex':
      return text.length === check.digits && /^[0-9A-Fa-f]+$/.test(text) ? Number.parseInt(text, 16) : undefined;
    case 'hex-swapped':
      return text.length === 4 && /^[0-9A-Fa-f]+$/.test(text) ? Number.parseInt(text.slice(2) + text.slice(0, 2), 16) : undefined;
  }
}

/** The line as a check sees it: printer commands off, and blanks that are not part of a check byte. */
export function lineForCheck(check: RealCheck, bytes: string): string {
  const text = withoutPrinterCommands(bytes).replace(/^[\u0000\s]+/, '');
  if (check.as === 'byte') return text;
  const trimmed = text.replace(/[\u0000\s]+$/, '');
  return check.lead === '' && trimmed.endsWith('\u0003') ? trimmed.slice(0, -1) : trimmed;
}

/**
 * Verifies a line and takes the check off it. `line` holds bytes as characters; blanks at its end are not part of it.
 * The leading characters that are not covered stay on the body: the shape knows what to do with them.
 */
export function verifyCheck(check: RealCheck, line: string): CheckResult {
  const place = leadPlace(check, line);
  if (place < check.skip) return missing;
  const behind = line.slice(place + (check.as === 'byte' ? 0 : check.lead.length));
  const text = check.as === 'byte' ? behind : behind.trim();
  const sent = sentCheck(check, text);
  if (sent === undefined) return missing;
  const algorithm = algorithms[check.kind];
  const to = place + (check.coversLead ? check.lead.length : 0);
  let computed: number;
  if (check.overPairs) {
    const bytes = pairsToBytes(line.slice(check.skip, to));
    if (bytes === undefined) return { ok: false, why: 'wrong-check', detail: rejectionTexts.noHexPairs };
    computed = algorithm(bytes, 0, bytes.length);
  } else {
    computed = algorithm(line, check.skip, to);
  }
  if (check.as === 'decimal' && check.kind === 'sum' && check.digits < 3) computed %= 10 ** check.digits;
  if (computed === sent) return { ok: true, body: line.slice(0, place) };
  const hex = (value: number): string => value.toString(16).toUpperCase().padStart(2, '0');
  return { ok: false, why: 'wrong-check', detail: rejectionTexts.wrongCheck(hex(sent), hex(computed)) };
}
