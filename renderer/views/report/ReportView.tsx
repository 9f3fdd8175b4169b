import { useEffect, useRef, useState } from 'react';
import { reportView as words } from '../../../shared/words/records/records.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { BrokenSlot } from '../../components/Signs.tsx';
import { PaperFrame } from './PaperFrame.tsx';
import { ReportTools, type Paper } from './ReportTools.tsx';
import './report.css';

/** The report as it will be printed, with what can be done with it. */
export function ReportView({
  visitId,
  version = '',
  startPaper,
  before,
}: {
  visitId: string;
  /** the pages are asked for anew when it changes */
  version?: string;
  startPaper?: Paper;
  /** what must be kept before the pages are made */
  before?: () => Promise<unknown>;
}) {
  const { client } = useParts();
  const units = useApp((state) => state.settings.units);
  const [paper, setPaper] = useState<Paper>(startPaper ?? (units === 'us' ? 'letter' : 'a4'));
  const [page, setPage] = useState<{ token: string; of: string } | 'none'>();
  const [shown, setShown] = useState<string>();
  const frame = useRef<HTMLIFrameElement>(null);
  const wanted = `${visitId} ${paper} ${version}`;
  useEffect(() => {
    let isHere = true;
    void Promise.resolve(before?.())
      .then(() => client.call('report.preview', { visitId, paper }))
      .then((made) => isHere && setPage(made.ok ? { token: made.value.token, of: wanted } : 'none'));
    return () => {
      isHere = false;
    };
  }, [client, visitId, paper, wanted, before]);
  const isThere = page !== undefined && page !== 'none';
  // the pages before stay in view meanwhile, but they are not what is printed
  const isReady = isThere && page.of === wanted && page.token === shown;
  return (
    <div className="report-view">
      <ReportTools
        visitId={visitId}
        paper={paper}
        setPaper={setPaper}
        frame={frame}
        isReady={isReady}
        isComing={!isReady && page !== 'none'}
        {...(before && { before })}
      />
      {isThere ? (
        <PaperFrame
          token={page.token}
          title={words.preview}
          inView={(shownNow) => void (frame.current = shownNow)}
          ready={() => setShown(page.token)}
        />
      ) : (
        <div className="report-empty" role="status">
          <BrokenSlot large />
          <div>
            <h2>{page === undefined ? words.preparing : words.none}</h2>
            {page === 'none' && <p className="second">{words.noneAbout}</p>}
          </div>
        </div>
      )}
    </div>
  );
}
