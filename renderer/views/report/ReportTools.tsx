import { useState, type RefObject } from 'react';
import { reportView as words } from '../../../shared/words/records/records.ts';
import { useParts } from '../../app-parts.ts';
import { Switch } from '../../components/Switch.tsx';
import { saveDownload } from '../../backend/save-download.ts';
import './report.css';

export type Paper = 'a4' | 'letter';
const forms = ['pdf', 'html', 'csv', 'json'] as const;
/** further papers, each a PDF of its own */
const others = ['owner', 'label', 'annex'] as const;
type Saved = (typeof forms)[number] | (typeof others)[number];

/** what is printed, further papers, files for other programs: a row breaks between them */
const groups: readonly (readonly Saved[])[] = [['pdf'], others, ['html', 'csv', 'json']];

type Props = {
  visitId: string;
  paper: Paper;
  setPaper: (paper: Paper) => void;
  frame: RefObject<HTMLIFrameElement | null>;
  /** the pages that are in view are the newest */
  isReady: boolean;
  /** newer ones are being made */
  isComing: boolean;
  /** what must be kept before the pages are made */
  before?: () => Promise<unknown>;
};

/** Paper, Print, and the files: what was saved, and where it went, is said beside the buttons. */
export function ReportTools({ visitId, paper, setPaper, frame, isReady, isComing, before }: Props) {
  const { actions, store } = useParts();
  const [state, setState] = useState<{ making: boolean; said: string }>({ making: false, said: '' });

  const save = async (what: Saved): Promise<void> => {
    setState({ making: true, said: words.saving(words.forms[what]) });
    await before?.();
    const form = forms.find((one) => one === what) ?? 'pdf';
    const part = what === 'owner' || what === 'label' ? what : undefined;
    const made = await actions.ask('report.make', {
      visitId,
      paper,
      form,
      ...(part && { part }),
      ...(what === 'annex' && { annex: true }),
    });
    if (made === undefined) return setState({ making: false, said: '' });
    saveDownload(made.download, made.fileName);
    const said = [words.saved(made.fileName), made.note].filter(Boolean).join(' ');
    setState({ making: false, said });
    store.getState().saidChanged(said);
  };

  return (
    <div className="report-tools" role="group" aria-label={words.save}>
      <Switch
        label={words.paper}
        value={paper}
        change={setPaper}
        options={(['a4', 'letter'] as const).map((value) => ({ value, text: words.papers[value] }))}
      />
      {groups.map((group) => (
        <div key={group[0]} className="report-tools-group">
          {group[0] === 'pdf' && (
            <button type="button" className="button" disabled={!isReady} onClick={() => frame.current?.contentWindow?.print()}>
              {words.print}
            </button>
          )}
          {group.map((what) => (
            <button key={what} type="button" className="button" disabled={state.making} onClick={() => void save(what)}>
              {words.forms[what]}
            </button>
          ))}
        </div>
      ))}
      <span className="grow" role="status">
        {isComing ? words.preparing : state.said}
      </span>
    </div>
  );
}
