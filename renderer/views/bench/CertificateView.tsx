import { useEffect, useState } from 'react';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { REPORT_PATH } from '../../../shared/ipc/report-commands.ts';
import { bench } from '../../../shared/words/bench.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { BrokenSlot } from '../../components/Signs.tsx';
import { Field } from '../../components/Field.tsx';
import { BenchFrame } from './BenchFrame.tsx';
import { Key } from '../../components/Key.tsx';
import { useKey } from '../../keys/use-key.ts';
import { useBench, useDesk, useMayAct, useNowWallMs, useSetUp } from './use-bench.ts';

const words = bench.certificate;

/** The certificate as it will be printed, and the ways to take it along. */
export function CertificateView({ testId }: { testId: string }) {
  const test = useBench((state) => state.lists['bench-test'].find(({ id }) => id === testId)?.body);
  return test === undefined ? null : <Sheet key={testId} testId={testId} test={test} />;
}

function Sheet({ testId, test }: { testId: string; test: BenchTest }) {
  const { actions, client } = useParts();
  const desk = useDesk();
  const may = useMayAct();
  const now = useNowWallMs();
  const paper = useApp((state) => (state.settings.units === 'us' ? ('letter' as const) : ('a4' as const)));
  const [name, setName] = useState(test.person ?? '');
  const [page, setPage] = useState<{ token: string } | 'none'>();
  useEffect(() => {
    let here = true;
    void desk
      .flushed(testId)
      .then(() => client.call('certificate.preview', { testId, paper }))
      .then((made) => here && setPage(made.ok ? made.value : 'none'));
    return () => {
      here = false;
    };
  }, [client, desk, testId, test, paper]);
  const save = (form: 'pdf' | 'html' | 'csv' | 'json'): void =>
    void desk
      .flushed(testId)
      .then(() => actions.ask('certificate.make', { testId, paper, form }))
      .then((made) => made !== undefined && saveDownload(made.download, made.fileName));
  const sign = (): void => desk.changeTest(testId, (kept) => ({ ...kept, signature: { name: name.trim(), wallMs: now() } }));
  const setUp = useSetUp();
  const maySign = may && test.watermark === undefined && test.signature === undefined;
  const siblings = useBench((state) => state.lists['bench-test']).filter(({ id, body }) => body.session === test.session && id !== testId);
  useKey('smoke', sign, maySign && name.trim() !== '');
  useKey('note', () => setUp(test), may);
  return (
    <BenchFrame
      title={words.title}
      about={test.instrument.name}
      tools={siblings.map(({ id, body }) => (
        <button key={id} type="button" className="button tab-button" onClick={() => desk.show({ kind: 'certificate', testId: id })}>
          {body.instrument.name}
        </button>
      ))}
      back={() => desk.show({ kind: 'result', testId })}
      says={
        test.watermark !== undefined
          ? words.practice
          : test.signature === undefined
            ? words.unsigned
            : words.signedName(test.signature.name)
      }
      others={
        <>
          {(['html', 'csv', 'json'] as const).map((form) => (
            <button key={form} type="button" className="button tall-row" onClick={() => save(form)}>
              {words[form]}
            </button>
          ))}
          {maySign && (
            <button type="button" className="button tall-row" disabled={name.trim() === ''} onClick={sign}>
              {words.sign} <Key action="smoke" />
            </button>
          )}
          <button type="button" className="button tall-row" disabled={!may} onClick={() => setUp(test)}>
            {bench.setUp.nextInstrument} <Key action="note" />
          </button>
        </>
      }
      main={{ text: words.pdf, run: () => save('pdf') }}
      right={
        maySign ? (
          <section className="bench-fields" aria-label={words.sign}>
            <Field label={words.signName} value={name} change={setName} numeric={false} />
          </section>
        ) : undefined
      }
    >
      {page !== undefined && page !== 'none' ? (
        // a frame of its own for each page: none is left half way, and none is a step of the browser's way back
        <iframe key={page.token} className="report-preview" title={words.preview} src={`.${REPORT_PATH}${page.token}`} />
      ) : (
        <div className="report-empty" role="status">
          <BrokenSlot large />
          <h2>{page === undefined ? words.preparing : words.noPreview}</h2>
        </div>
      )}
    </BenchFrame>
  );
}
