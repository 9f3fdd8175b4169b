import type { Clock } from '../../shared/clock.ts';
import { desktop } from '../../shared/words/desktop.ts';
import { newToken } from '../transport/token.ts';
import { APP_ADDRESS } from './own-page.ts';
import { pdfOptions } from './window-options.ts';

/** Pages that wait to be printed: only a hidden window of ours asks for them, once, by a name that nobody else knows. */
export const PRINT_PATH = '/print/';

export const LONGEST_PRINT_MS = 60_000;

/** A report's page brings its style, pictures and fonts within itself and needs nothing else. */
export const printPolicy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'";

export interface PrintWindow {
  loadURL(address: string): Promise<void>;
  readonly webContents: { printToPDF(options: typeof pdfOptions): Promise<Uint8Array> };
  destroy(): void;
}

export interface PdfPrinter {
  print(html: string): Promise<Uint8Array>;
  takePage(token: string): string | undefined;
}

/**
 * Prints through the same Chromium that shows the report, in a window that nobody sees. It is gone afterwards, also when printing failed or
 * took too long: a page that never ends must not keep a processor busy behind a run.
 */
export function createPdfPrinter(openHidden: () => PrintWindow, clock: Pick<Clock, 'after'>): PdfPrinter {
  const pages = new Map<string, string>();
  return {
    async print(html) {
      const token = newToken();
      pages.set(token, html);
      const window = openHidden();
      let cancel = (): void => undefined;
      const tooSlow = new Promise<never>((_resolve, reject) => {
        cancel = clock.after(LONGEST_PRINT_MS, () => reject(new Error(desktop.printTooSlow(LONGEST_PRINT_MS / 1000))));
      });
      const printed = async (): Promise<Uint8Array> => {
        await window.loadURL(`${APP_ADDRESS}${PRINT_PATH.slice(1)}${token}`);
        return await window.webContents.printToPDF(pdfOptions);
      };
      try {
        return await Promise.race([printed(), tooSlow]);
      } finally {
        cancel();
        pages.delete(token);
        window.destroy();
      }
    },
    takePage(token) {
      const page = pages.get(token);
      pages.delete(token);
      return page;
    },
  };
}
