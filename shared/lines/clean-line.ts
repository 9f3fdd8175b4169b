import type { Framing } from '../measurement/recipe.ts';

/**
 * A raw line (one character per byte) as text to be read: printer commands and framing bytes off, encoding decoded.
 * What is left of control bytes is noise, and noise next to digits may have replaced one: such a line is not read.
 */
export type CleanLine = { readonly text: string; readonly isDirty: boolean };

// ESC and what belongs to it: a bracketed sequence, or one command byte and a control byte as its parameter.
const escapeSequences =
  /\u001b(?:\[[0-9;?]*[ -/]*[@-~]|[^\u001b][\u0000-\u001a\u001c-\u001f]?)|\u001d[A-Za-z!][\u0000-\u001a\u001c-\u001f]?/g;
const startFraming = /^[\u0002\u0004-\u0007\u000b\u000c\u000e-\u0014\ufeff]+/;
const endFraming = /[\u0003\u0004\u0007\u000b\u000c\u000e-\u0014\u0017]+$/;
const special = /[^\u0020-\u007e]/;
const notText = /[\u0000-\u0008\u000a-\u001f\u007f-\u009f\ufffd]/;
// Old PC code page, DOS: only what instruments use of it.
const cp437: Record<string, string> = {
  '\u00f8': '°',
  '\u00fd': '²',
  '\u00e6': 'µ',
  '\u00f1': '±',
  '\u00f3': '≤',
  '\u00f2': '≥',
  '\u0081': 'ü',
  '\u0084': 'ä',
  '\u0094': 'ö',
  '\u00e1': 'ß',
  '\u009a': 'Ü',
};

/** UTF-8 from bytes as characters. A wrong sequence becomes U+FFFD. */
export function decodeUtf8(bytes: string): string {
  let text = '';
  for (let at = 0; at < bytes.length; at++) {
    const lead = bytes.charCodeAt(at);
    if (lead < 0x80) {
      text += bytes[at];
      continue;
    }
    const more = lead >= 0xc2 && lead <= 0xdf ? 1 : lead >= 0xe0 && lead <= 0xef ? 2 : lead >= 0xf0 && lead <= 0xf4 ? 3 : 0;
    let point = more === 0 ? -1 : lead & (0x3f >> more);
    for (let next = 1; next <= more && point >= 0; next++) {
      const byte = bytes.charCodeAt(at + next);
      point = (byte & 0xc0) === 0x80 ? point * 64 + (byte & 0x3f) : -1;
    }
    const least = more === 1 ? 0x80 : more === 2 ? 0x800 : 0x10000;
    const isWrong = point < least || point > 0x10ffff || (point >= 0xd800 && point <= 0xdfff);
    text += isWrong ? '\ufffd' : String.fromCodePoint(point);
    if (!isWrong) at += more;
  }
  return text;
}

const decode = (bytes: string, encoding: Framing['encoding']): string => {
  switch (encoding) {
    case 'utf8':
      return decodeUtf8(bytes);
    case 'cp437':
      return bytes.replace(/[\u0080-\u00ff]/g, (byte) => cp437[byte] ?? byte);
    case 'ascii':
    case 'latin1':
      return bytes;
  }
};

/** Printer commands off; the rest as it came. Also what a check is taken over. */
export const withoutPrinterCommands = (bytes: string): string =>
  bytes.includes('\u001b') || bytes.includes('\u001d') ? bytes.replace(escapeSequences, '') : bytes;

export function cleanLine(bytes: string, encoding: Framing['encoding']): CleanLine {
  if (!special.test(bytes)) return { text: bytes, isDirty: false };
  const text = decode(withoutPrinterCommands(bytes), encoding).replace(startFraming, '').replace(endFraming, '');
  return { text, isDirty: notText.test(text) };
}
