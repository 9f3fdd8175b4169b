import { useState } from 'react';
import { isTrueSize } from '../../../shared/report/true-size/true-size.ts';
import { parseLengthMm } from '../../../shared/units/length.ts';
import { trueSizeWords as words } from '../../../shared/words/paper/geometry-sheet.ts';
import { useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { Dialog } from '../../components/Dialog.tsx';
import { Choice, Field } from '../../components/Field.tsx';
import { optionsOf } from '../../fields/KeptField.tsx';
import { useVisit } from '../visit/use-visit.ts';
import './geometry.css';

/** Printed, its bar measured, the length typed back: a sheet that is off by more than 1 % is refused. */
export function TrueSizeDialog({ close }: { close: () => void }) {
  const { actions, visits } = useParts();
  const { visit, units, put, may } = useVisit();
  const proven = visit.setUp.geometry?.trueSize;
  const [paper, setPaper] = useState<'a4' | 'letter'>(units === 'us' ? 'letter' : 'a4');
  const [typed, setTyped] = useState('');
  const measured = typed.trim() === '' ? undefined : parseLengthMm(typed, /[/½¼¾⅛⅜⅝⅞]/.test(typed) ? 'inch' : 'mm');
  const error =
    measured === undefined ? undefined : !measured.ok ? words.notALength : isTrueSize(measured.value) ? undefined : words.notTrue(typed);
  const make = async (): Promise<void> => {
    await visits.flush();
    const made = await actions.ask('geometry.sheet', { visitId: visit.id, paper });
    if (made !== undefined) saveDownload(made.download, made.fileName);
  };
  return (
    <Dialog title={words.title} close={close} submit={make}>
      <p>{words.about}</p>
      <div className="form-row">
        <Choice label={words.paper} width={160} value={paper} change={setPaper} options={optionsOf(words.papers)} />
        <button type="submit" className="button under-label">
          {words.make}
        </button>
      </div>
      <Field
        label={words.field}
        unit="mm"
        width={200}
        value={typed}
        change={setTyped}
        error={error}
        hint={measured?.ok === true && error === undefined ? words.isTrue : words.proveAbout}
      />
      <div className="row true-size-save">
        <button
          type="button"
          className="button"
          disabled={!may || measured?.ok !== true || error !== undefined}
          onClick={() => {
            if (measured?.ok === true)
              put({ path: ['setUp', 'geometry', 'trueSize'], after: { barMm: measured.value, paper, wallMs: visits.nowWallMs() } });
          }}
        >
          {words.save}
        </button>
        <span role="status">{proven === undefined ? words.notProven : words.proven(proven.barMm, words.papers[proven.paper])}</span>
      </div>
    </Dialog>
  );
}
