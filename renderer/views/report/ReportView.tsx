import { useEffect, useRef, useState } from 'react';
import { REPORT_PATH } from '../../../shared/ipc/report-commands.ts';
import { reportView as words } from '../../../shared/words/records.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { BrokenSlot } from '../../components/Signs.tsx';

export type Paper = 'a4' | 'letter';
const forms = ['pdf', 'html', 'csv', 'json'] as const;

/** The report as it will be printed, with what can be done with it. The page comes from an address of its own and runs no script. */
export function ReportView({ visitId, version = '' }: { visitId: string; version?: string }) {
  const { client, actions, store } = useParts();
  const units = useApp((state) => state.settings.units);
  const [paper, setPaper] = useState<Paper>(units === 'us' ? 'letter' : 'a4');
  const [page, setPage] = useState<{ token: string } | 'none'>();
  const [making, setMaking] = useState<string>();
  const frame = useRef<HTMLIFrameElement>(null);
  useEffect(() => {
    let isHere = true;
    void client.call('report.preview', { visitId, paper }).then((made) => isHere && setPage(made.ok ? made.value : 'none'));
    return () => {
      isHere = false;
    };
  }, [client, visitId, paper, version]);

  const save = async (form: (typeof forms)[number]): Promise<void> => {
    setMaking(words.saving(words.forms[form]));
    const made = await actions.ask('report.make', { visitId, paper, form });
    setMaking(undefined);
    if (made === undefined) return;
    saveDownload(made.download, made.fileName);
    store.getState().saidChanged(words.saved(made.fileName));
  };

  return (
    <div className="report-view">
      <div className="report-tools" role="group" aria-label={words.save}>
        <span className="second">{words.paper}</span>
        {(['a4', 'letter'] as const).map((one) => (
          <button key={one} type="button" className="button quiet" aria-pressed={one === paper} onClick={() => setPaper(one)}>
            {words.papers[one]}
          </button>
        ))}
        <span className="grow" role="status">
          {making}
        </span>
        <button
          type="button"
          className="button"
          disabled={page === undefined || page === 'none'}
          onClick={() => frame.current?.contentWindow?.print()}
        >
          {words.print}
        </button>
        {forms.map((form) => (
          <button key={form} type="button" className="button" disabled={making !== undefined} onClick={() => void save(form)}>
            {words.forms[form]}
          </button>
        ))}
      </div>
      {page === undefined || page === 'none' ? (
        <div className="report-empty" role="status">
          <BrokenSlot large />
          <h2>{page === undefined ? words.preparing : words.none}</h2>
        </div>
      ) : (
        // same origin, so that it can be printed from here; no scripts, so that nothing in it can act
        <iframe
          ref={frame}
          className="report-page"
          title={words.papers[paper]}
          sandbox="allow-same-origin allow-modals"
          src={`.${REPORT_PATH}${page.token}`}
        />
      )}
    </div>
  );
}
