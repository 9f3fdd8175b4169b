import { REPORT_PATH } from '../../shared/ipc/report-commands.ts';

/** The window's own address in the desktop shell. A scheme of our own is neither a file nor a network address. */
export const APP_SCHEME = 'app';
export const APP_HOST = 'flueside';
export const APP_ADDRESS = `${APP_SCHEME}://${APP_HOST}/`;

/** Is this an address of our own window, and nothing that only looks like it? */
export function isOwnPage(address: string): boolean {
  try {
    const { protocol, host, username, password } = new URL(address);
    return protocol === `${APP_SCHEME}:` && host === APP_HOST && username === '' && password === '';
  } catch {
    return false;
  }
}

/** What a frame inside our window may show: the preview of a report, which is a page made by ourselves. */
export function isOwnFrame(address: string): boolean {
  if (address === 'about:blank' || address === 'about:srcdoc') return true;
  if (address.startsWith('blob:')) return isOwnPage(address.slice('blob:'.length));
  return isOwnPage(address) && new URL(address).pathname.startsWith(REPORT_PATH);
}

/** Nothing is loaded over any network, whatever a page asks for. */
export function mayLoad(address: string, allowsTools: boolean): boolean {
  if (isOwnPage(address) || address.startsWith('data:') || isOwnFrame(address)) return true;
  return allowsTools && address.startsWith('devtools://');
}
