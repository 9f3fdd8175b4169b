/** Bytes of a line -> pieces to show: control characters as signs, fields with their channel. Pure. */
import type { LineReport } from '../../../shared/ipc/run-commands.ts';

export type Piece = { text: string; kind: 'plain' | 'control' | 'field'; channel?: string };

/** U+2400 and on are the signs for control characters; bytes above 0x7E show as hex, because the window doesn't know the encoding. */
export function signOf(byte: number): string | undefined {
  if (byte < 0x20) return String.fromCharCode(0x2400 + byte);
  if (byte === 0x7f) return '\u2421';
  if (byte > 0x7f && byte < 0xa0) return `\u27e8${byte.toString(16).toUpperCase()}\u27e9`;
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
