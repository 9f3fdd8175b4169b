import { Readable } from 'node:stream';
import { DOWNLOAD_PATH, KIND_HEADER, NAME_HEADER, UPLOAD_PATH } from '../../shared/ipc/handshake.ts';
import { REPORT_PATH } from '../../shared/ipc/report-commands.ts';
import { problem } from '../../shared/problem.ts';
import { reportPolicy, safetyHeaders } from '../transport/content-policy.ts';
import { openDownload } from '../transport/downloads.ts';
import { decodeName } from '../transport/file-name.ts';
import type { Uploads } from '../transport/uploads.ts';
import type { WindowFile } from '../transport/window-files.ts';
import { isOwnPage } from './own-page.ts';
import { PRINT_PATH, printPolicy } from './pdf-printer.ts';
import type { Download } from '../runs/stored/downloads.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { shellTexts } from '../../shared/words/host.ts';

export type ProtocolParts = {
  readonly files: ReadonlyMap<string, WindowFile>;
  readonly takeDownload: (token: string) => Download | undefined;
  /** a page that is to be printed, once */
  readonly takePage: (token: string) => string | undefined;
  /** the page of a report's preview */
  readonly reportPage?: (token: string) => string | undefined;
  readonly uploads: Pick<Uploads, 'receive'>;
};

/**
 * Answers `app://flueside/...` with the very same files, headers, downloads and uploads as the loopback host answers http. Only our own window
 * can ask: the scheme exists in this process alone.
 */
export async function answerAppRequest(
  request: Request,
  { files, takeDownload, takePage, reportPage, uploads }: ProtocolParts,
): Promise<Response> {
  const headers = safetyHeaders();
  const plain = (status: number, text: string): Response =>
    new Response(`${text}\n`, { status, headers: { ...headers, 'Content-Type': 'text/plain; charset=utf-8' } });
  if (!isOwnPage(request.url)) return plain(404, shellTexts.nothingHere);
  const path = new URL(request.url).pathname;
  if (request.method === 'POST' && path === UPLOAD_PATH) {
    if (request.body === null) return plain(400, shellTexts.fileMissing);
    const kind = request.headers.get(KIND_HEADER) === 'backup' ? 'backup' : 'file';
    const name = decodeName(request.headers.get(NAME_HEADER) ?? '');
    const received = await uploads.receive(Readable.fromWeb(request.body as never), name, kind);
    return Response.json(received.ok ? received.value : received.error, { status: received.ok ? 200 : 413, headers });
  }
  if (request.method !== 'GET') return plain(405, shellTexts.onlyGet);
  if (path.startsWith(DOWNLOAD_PATH)) {
    const found = takeDownload(path.slice(DOWNLOAD_PATH.length));
    const opened = found === undefined ? undefined : openDownload(found);
    if (opened === undefined) return plain(404, problemLine(problem('download-gone')));
    return new Response(Readable.toWeb(opened.stream) as ReadableStream, { headers: { ...headers, ...opened.headers } });
  }
  const isPreview = path.startsWith(REPORT_PATH);
  if (isPreview || path.startsWith(PRINT_PATH)) {
    const page = isPreview ? reportPage?.(path.slice(REPORT_PATH.length)) : takePage(path.slice(PRINT_PATH.length));
    if (page === undefined) return plain(404, shellTexts.nothingHere);
    return new Response(page, {
      headers: {
        ...headers,
        'Content-Security-Policy': isPreview ? reportPolicy : printPolicy,
        'Content-Type': 'text/html; charset=utf-8',
      },
    });
  }
  const file = files.get(path);
  if (file === undefined) return plain(404, shellTexts.nothingHere);
  return new Response(new Uint8Array(file.bytes), { headers: { ...headers, 'Content-Type': file.type, 'Cache-Control': file.cache } });
}
