import { useEffect, useState } from 'react';
import { REPORT_PATH } from '../../../shared/ipc/report-commands.ts';
import { reportScreen as words } from '../../../shared/words/visit.ts';
import { useParts } from '../../app-parts.ts';
import { BrokenSlot } from '../../components/Signs.tsx';

/**
 * The report's own pages, as they will be printed. They come from the host at an address of their own, run no script, and are asked for
 * anew when `version` changes.
 */
export function ReportPreview({ visitId, version, paper }: { visitId: string; version: string; paper: 'a4' | 'letter' }) {
  const { client, visits } = useParts();
  const [page, setPage] = useState<{ token: string } | 'none'>();
  useEffect(() => {
    let here = true;
    void visits
      .flush()
      .then(() => client.call('report.preview', { visitId, paper }))
      .then((made) => here && setPage(made.ok ? made.value : 'none'));
    return () => {
      here = false;
    };
  }, [client, visits, visitId, version, paper]);
  if (page !== undefined && page !== 'none')
    return <iframe className="report-preview" title={words.preview} src={`.${REPORT_PATH}${page.token}`} />;
  return (
    <div className="report-empty" role="status">
      <BrokenSlot large />
      <div>
        <h2>{page === undefined ? words.preparing : words.noPreview}</h2>
        {page === 'none' && <p className="second">{words.noPreviewAbout}</p>}
      </div>
    </div>
  );
}
