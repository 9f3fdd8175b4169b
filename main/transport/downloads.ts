import { createReadStream, statSync } from 'node:fs';
import { Readable } from 'node:stream';
import type { Download } from '../runs/stored/downloads.ts';

/** Plain ASCII for old readers, and the true name beside it (RFC 6266 section 4.3, RFC 8187 section 3.2). */
export function dispositionOf(fileName: string): string {
  const plain = fileName.replace(/[^\x20-\x7e]|["\\%]/g, '_');
  const encoded = encodeURIComponent(fileName).replace(/['()*]/g, (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`);
  return `attachment; filename="${plain}"; filename*=UTF-8''${encoded}`;
}

export type OpenDownload = { readonly stream: Readable; readonly headers: Record<string, string> };

/**
 * @returns undefined when the file behind it has gone
 */
export function openDownload({ fileName, mime, text, bytes: given, filePath }: Download): OpenDownload | undefined {
  const headers = (bytes: number) => ({
    'Content-Type': mime,
    'Content-Length': String(bytes),
    'Content-Disposition': dispositionOf(fileName),
    'Cache-Control': 'no-store',
  });
  if (filePath === undefined) {
    const bytes = given === undefined ? Buffer.from(text ?? '') : Buffer.from(given);
    return { stream: Readable.from(bytes.length === 0 ? [] : [bytes]), headers: headers(bytes.length) };
  }
  try {
    const { size } = statSync(filePath);
    // a run file may grow meanwhile: exactly what was promised is sent
    return { stream: size === 0 ? Readable.from([]) : createReadStream(filePath, { end: size - 1 }), headers: headers(size) };
  } catch {
    return undefined;
  }
}
