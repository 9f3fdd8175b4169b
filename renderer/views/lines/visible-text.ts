/** Bytes of a line -> pieces to show: control characters as signs, fields with their channel. Pure. */
import type { LineReport } from '../../../shared/ipc/run-documents.ts';

export type Piece = { text: string; kind: 'plain' | 'control' | 'field'; channel?: string };

/** ASCII control characters by their standard names; the bundled font has no pictures of them. */
const controlNames =
  'NUL SOH STX ETX EOT ENQ ACK BEL BS TAB LF VT FF CR SO SI DLE DC1 DC2 DC3 DC4 NAK SYN ETB CAN EM SUB ESC FS GS RS US'.split(' ');

/** Bytes that are no letter in any encoding show as hex. */
export function signOf(byte: number): string | undefined {
  if (byte < 0x20) return `\u2039${controlNames[byte]}\u203a`;
  if (byte === 0x7f) return '\u2039DEL\u203a';
  if (byte > 0x7f && byte < 0xa0) return `\u2039${byte.toString(16).toUpperCase()}\u203a`;
  return undefined;
}

export function piecesOf({ bytes, spans = [] }: Pick<LineReport, 'bytes' | 'spans'>): Piece[] {
  const pieces: Piece[] = [];
  const add = (piece: Piece): void => {
    const last = pieces[pieces.length - 1];
    if (last !== undefined && last.kind === piece.kind && last.channel === piece.channel) last.text += piece.text;
    else pieces.push({ ...piece });
  };
  for (let index = 0; index < bytes.length; index++) {
    const span = spans.find(({ start, end }) => index >= start && index < end);
    const sign = signOf(bytes.charCodeAt(index));
    const text = sign ?? bytes.charAt(index);
    if (span !== undefined) add({ text, kind: 'field', channel: span.channel });
    else add({ text, kind: sign === undefined ? 'plain' : 'control' });
  }
  return pieces;
}
