import { useRef, useState } from 'react';
import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { certificateWords } from '../../../../shared/words/paper/certificate.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { saveDownload } from '../../../backend/save-download.ts';
import { BrokenSlot } from '../../../components/Signs.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { Field } from '../../../components/Field.tsx';
import { formatClock, formatDate } from '../../../../shared/format/duration.ts';
import { PaperFrame } from '../../report/PaperFrame.tsx';
import { useAnswerOrProblem } from '../../../queries/use-answer.ts';
import { BenchFrame } from '../BenchFrame.tsx';
import { InstrumentSwitch } from '../InstrumentSwitch.tsx';
import { Key } from '../../../components/Key.tsx';
import { useKey } from '../../../keys/use-key.ts';
import type { Doc } from '../bench-screen.ts';
import { certificateDeedOf } from './certificate-deed.ts';
import { useBench, useBenchScreen, useMayAct, useSetUp } from '../use-bench.ts';
import '../bench.css';
import '../BenchFrame.css';
import './CertificateView.css';

const words = certificateWords;

/** The certificate as it will be printed, and the ways to take it along. */
export function CertificateView({ testId }: { testId: string }) {
  const doc = useBench((state) => state.lists['bench-test'].find(({ id }) => id === testId));
  return doc === undefined ? null : <Sheet key={testId} doc={doc} />;
}

function Sheet({ doc }: { doc: Doc<BenchTest> }) {
  const { id: testId, body: test, revision, altered } = doc;
  const { actions } = useParts();
  const screen = useBenchScreen();
  const may = useMayAct();
  const paper = useApp((state) => (state.settings.units === 'us' ? ('letter' as const) : ('a4' as const)));
  const [name, setName] = useState(test.person ?? '');
  // the paper shows what is saved, so it is made anew with each revision
  const preview = useAnswerOrProblem('certificate.preview', { testId, paper }, { when: 'once', version: revision, keepLast: true });
  const save = (form: 'pdf' | 'html' | 'csv' | 'json'): void =>
    void actions
      .ask('certificate.make', { testId, paper, form })
      .then((made) => made !== undefined && saveDownload(made.download, made.fileName));
  const sign = (): void => void actions.ask('bench.sign', { testId, name: name.trim() });
  const setUp = useSetUp();
  const maySign = may && test.watermark === undefined && test.signature === undefined;
  const siblings = useBench((state) => state.lists['bench-test']).filter(({ id, body }) => body.session === test.session && id !== testId);
  const deed = certificateDeedOf({ test, altered: altered === true, may, name });
  const nameField = useRef<HTMLDivElement>(null);
  const act: Record<typeof deed.does, () => void> = {
    name: () => nameField.current?.querySelector('input')?.focus(),
    sign,
    pdf: () => save('pdf'),
  };
  // the key that signed before it was the main button still does
  useKey('smoke', sign, maySign && name.trim() !== '');
  useKey('note', () => setUp(test), may);
  return (
    <BenchFrame
      title={words.title}
      about={siblings.length > 0 ? undefined : test.instrument.name}
      isMeasured={false}
      tools={
        siblings.length > 0 && (
          <InstrumentSwitch tests={[...siblings, doc]} at={testId} change={(id) => screen.show({ kind: 'certificate', testId: id })} />
        )
      }
      back={() => screen.show({ kind: 'result', testId })}
      says={deed.says}
      others={
        <>
          {(['html', 'csv', 'json'] as const).map((form) => (
            <button key={form} type="button" className="button tall-row" onClick={() => save(form)}>
              {words[form]}
            </button>
          ))}
          {deed.does !== 'pdf' && (
            <button type="button" className="button tall-row" onClick={() => save('pdf')}>
              {words.pdf}
            </button>
          )}
          <button type="button" className="button tall-row" disabled={!may} onClick={() => setUp(test)}>
            {benchSetUp.nextInstrument} <Key action="note" />
          </button>
        </>
      }
      main={{ text: deed.text, run: act[deed.does] }}
      right={
        maySign ? (
          <section className="bench-fields" aria-label={words.sign}>
            <div ref={nameField}>
              <Field label={words.signName} value={name} change={setName} numeric={false} />
            </div>
          </section>
        ) : test.signature === undefined || altered === true ? undefined : (
          <section className="bench-signed" aria-label={words.signature}>
            <VerdictSign verdict="pass" />
            <div>
              <h2>{words.signature}</h2>
              <b>{test.signature.name}</b>
              <p className="second">
                {formatDate(test.signature.wallMs, test.zoneMinutes)} {formatClock(test.signature.wallMs, test.zoneMinutes, 'minutes')}
              </p>
              <p className="second">{words.holds}</p>
            </div>
          </section>
        )
      }
    >
      {preview !== undefined && 'value' in preview ? (
        <PaperFrame
          token={preview.value.token}
          title={words.preview}
          ready={(shown) => test.signature !== undefined && shown?.querySelector('.sign')?.scrollIntoView({ block: 'end' })}
        />
      ) : (
        <div className="report-empty" role="status">
          <BrokenSlot large />
          <h2>{preview === undefined ? words.preparing : words.noPreview}</h2>
        </div>
      )}
    </BenchFrame>
  );
}
