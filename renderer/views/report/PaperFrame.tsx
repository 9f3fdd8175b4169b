import { useEffect, useRef, useState } from 'react';
import { REPORT_PATH } from '../../../shared/ipc/report-commands.ts';
import { reportView as words } from '../../../shared/words/records/records.ts';
import { fitSheets, numberPages } from './show-pages.ts';
import './report.css';

type Props = {
  token: string;
  title: string;
  /** told which frame is in view: what is printed */
  inView?: (frame: HTMLIFrameElement) => void;
  /** told once the pages are there, for what is to be in view first */
  ready?: (page: Document | null) => void;
};

/** Pages of the host. The pages at hand stay in view, where they were scrolled to, until the next ones are there: those are made behind them. */
export function PaperFrame({ token, title, inView, ready }: Props) {
  const frame = useRef<HTMLIFrameElement>(null);
  const [shown, setShown] = useState(token);
  const tokens = shown === token ? [token] : [shown, token];
  return (
    <div className="report-pages">
      {tokens.map((one) => (
        <Pages
          key={one}
          token={one}
          title={title}
          isShown={one === shown}
          inView={(element) => {
            frame.current = element;
            inView?.(element);
          }}
          ready={(page) => {
            const before = frame.current?.contentWindow?.scrollY;
            if (one !== shown && before !== undefined) page?.defaultView?.scrollTo(0, before);
            ready?.(page);
            setShown(one);
          }}
        />
      ))}
    </div>
  );
}

/**
 * As sheets of paper, as wide as there is room for. Same origin, so that they can be printed from here; no scripts, so that nothing in them can act.
 * A frame of its own for each making: none is left half way, and none is a step of the browser's way back.
 */
function Pages({
  token,
  title,
  isShown,
  inView,
  ready,
}: {
  token: string;
  title: string;
  isShown: boolean;
  inView: (frame: HTMLIFrameElement) => void;
  ready: (page: Document | null) => void;
}) {
  const own = useRef<HTMLIFrameElement>(null);
  const [loaded, setLoaded] = useState(0);
  const tell = useRef(ready);
  useEffect(() => {
    tell.current = ready;
    if (isShown && own.current !== null) inView(own.current);
  });
  useEffect(() => {
    const element = own.current;
    if (element === null) return;
    const fit = (): void => {
      if (element.contentDocument !== null) fitSheets(element.contentDocument, element.clientWidth);
    };
    const watch = new ResizeObserver(fit);
    watch.observe(element);
    fit();
    // the sheets have their size now: what is in view can be set
    if (loaded > 0) tell.current(element.contentDocument);
    return () => watch.disconnect();
  }, [loaded]);
  return (
    <iframe
      ref={own}
      className={`report-page${isShown ? '' : ' coming'}`}
      title={isShown ? title : words.preparing}
      aria-hidden={isShown ? undefined : true}
      tabIndex={isShown ? undefined : -1}
      sandbox="allow-same-origin allow-modals"
      src={`.${REPORT_PATH}${token}`}
      onLoad={({ currentTarget: { contentDocument } }) => {
        void (contentDocument === null ? Promise.resolve() : contentDocument.fonts.ready.then(() => numberPages(contentDocument))).then(
          () => setLoaded((count) => count + 1),
        );
      }}
    />
  );
}
