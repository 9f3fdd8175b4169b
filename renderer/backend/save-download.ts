import { DOWNLOAD_PATH } from '../../shared/ipc/handshake.ts';

/** Hands a one-use download to the browser, which asks or keeps it where its downloads go. */
export function saveDownload(token: string, fileName: string): void {
  const link = document.createElement('a');
  link.href = `.${DOWNLOAD_PATH}${token}`;
  link.download = fileName;
  link.click();
}
