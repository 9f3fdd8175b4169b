import { useEffect, useState, type RefObject } from 'react';
import { REPORT_PATH } from '../../../shared/ipc/report-commands.ts';

/** room beside the sheet, px */
const BESIDE = 24;

/**
 * Pages of the host as sheets of paper, as wide as there is room for. Same origin, so that they can be printed from here; no scripts, so
 * that nothing in them can act. The page at hand stays until the next one is there.
 */
export function PaperFrame({ token, title, frame }: { token: string; title: string; frame: RefObject<HTMLIFrameElement | null> }) {
  const [loaded, setLoaded] = useState(0);
  useEffect(() => {
    const element = frame.current;
    if (element === null) return;
    const fit = (): void => fitSheets(element);
    const watch = new ResizeObserver(fit);
    watch.observe(element);
    fit();
    return () => watch.disconnect();
  }, [frame, loaded]);
  return (
    <iframe
      ref={frame}
      className="report-page"
      title={title}
      sandbox="allow-same-origin allow-modals"
      src={`.${REPORT_PATH}${token}`}
      onLoad={() => setLoaded((count) => count + 1)}
    />
  );
}

/** Only on screen: what is printed keeps its size. */
function fitSheets(element: HTMLIFrameElement): void {
  const page = element.contentDocument;
  const sheet = page?.querySelector<HTMLElement>('.sheet,.label');
  if (page === null || page === undefined || sheet === null || sheet === undefined) return;
  const style = page.querySelector('style[data-fit]') ?? page.head.appendChild(page.createElement('style'));
  style.setAttribute('data-fit', '');
  style.textContent = '';
  const scale = Math.min(1, (element.clientWidth - BESIDE) / sheet.offsetWidth);
  if (scale > 0) style.textContent = `@media screen{main{zoom:${scale.toFixed(3)}}}`;
}
