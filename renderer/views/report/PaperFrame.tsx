import { useEffect, useState, type RefObject } from 'react';
import { REPORT_PATH } from '../../../shared/ipc/report-commands.ts';
import { fitSheets, numberPages } from './show-pages.ts';

/**
 * Pages of the host as sheets of paper, as wide as there is room for. Same origin, so that they can be printed from here; no scripts, so
 * that nothing in them can act. The page at hand stays until the next one is there.
 */
export function PaperFrame({ token, title, frame }: { token: string; title: string; frame: RefObject<HTMLIFrameElement | null> }) {
  const [loaded, setLoaded] = useState(0);
  useEffect(() => {
    const element = frame.current;
    if (element === null) return;
    const fit = (): void => {
      if (element.contentDocument !== null) fitSheets(element.contentDocument, element.clientWidth);
    };
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
      onLoad={({ currentTarget: { contentDocument } }) => {
        if (contentDocument !== null)
          void contentDocument.fonts.ready.then(() => numberPages(contentDocument)).then(() => setLoaded((count) => count + 1));
      }}
    />
  );
}
