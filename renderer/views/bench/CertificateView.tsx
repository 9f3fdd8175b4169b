import { useEffect, useRef, useState } from 'react';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { certificateOf, certificateRaw, type CertificateInput } from '../../../shared/report/bench-certificate.ts';
import { certificateBody, certificateHtml, certificateStyle } from '../../../shared/report/bench-certificate-html.ts';
import { certificateCsv, certificateJson } from '../../../shared/report/bench-certificate-data.ts';
import { bench } from '../../../shared/words/bench.ts';
import { useApp } from '../../app-parts.ts';
import { Field } from '../../components/Field.tsx';
import { BenchFrame } from './BenchFrame.tsx';
import { useBench, useDesk, useMayAct, useNowWallMs } from './use-bench.ts';

const words = bench.certificate;
const noFonts = { sans: undefined, mono: undefined };

/** The certificate as it will be printed, and the ways to take it along. */
export function CertificateView({ testId }: { testId: string }) {
  const test = useBench((state) => state.lists['bench-test'].find(({ id }) => id === testId)?.body);
  return test === undefined ? null : <Sheet testId={testId} test={test} />;
}

function Sheet({ testId, test }: { testId: string; test: BenchTest }) {
  const desk = useDesk();
  const may = useMayAct();
  const now = useNowWallMs();
  const version = useApp((state) => state.host?.version ?? '');
  const separator = useApp((state) => state.settings.csv.separator);
  const units = useApp((state) => state.settings.units);
  const hash = useHash(certificateRaw(test));
  const [name, setName] = useState(test.person ?? '');
  const input: CertificateInput = { test, hash, software: `Flueside ${version}`.trim() };
  const certificate = certificateOf(input);
  const paper = units === 'us' ? ('letter' as const) : ('a4' as const);
  const save = (form: 'html' | 'csv' | 'json'): void => {
    const content =
      form === 'html'
        ? certificateHtml(certificate, { paper, fonts: noFonts })
        : form === 'csv'
          ? certificateCsv(input, separator === 'comma' ? ',' : ';')
          : certificateJson(input);
    saveText(content, `${certificate.documentTitle}.${form}`, { html: 'text/html', csv: 'text/csv', json: 'application/json' }[form]);
  };
  const sign = (): void => desk.changeTest(testId, (kept) => ({ ...kept, signature: { name: name.trim(), wallMs: now() } }));
  const mayDo = may && test.watermark === undefined && test.signature === undefined;
  return (
    <BenchFrame
      title={words.title}
      about={test.instrument.name}
      back={() => desk.show({ kind: 'result', testId })}
      says={certificate.signature.state}
      others={
        <>
          <button type="button" className="button tall-row" onClick={() => save('csv')}>
            {words.csv}
          </button>
          <button type="button" className="button tall-row" onClick={() => save('json')}>
            {words.json}
          </button>
          {mayDo && (
            <button type="button" className="button tall-row" disabled={name.trim() === ''} onClick={sign}>
              {words.sign}
            </button>
          )}
        </>
      }
      main={{ text: words.html, run: () => save('html') }}
      right={
        mayDo ? (
          <section className="bench-fields" aria-label={words.sign}>
            <Field label={words.signName} value={name} change={setName} numeric={false} />
            <p className="second">{words.printHint}</p>
          </section>
        ) : undefined
      }
    >
      <Paper style={certificateStyle(certificate, { paper, fonts: noFonts })} body={certificateBody(certificate)} tape={certificate.tape} />
    </BenchFrame>
  );
}

/** The window's policy lets no inline style in; a sheet made by code in a root of its own is allowed, and its style can not leak out. */
function Paper({ style, body, tape }: { style: string; body: string; tape: string | undefined }) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const root = element.shadowRoot ?? element.attachShadow({ mode: 'open' });
    const sheet = new CSSStyleSheet();
    // what the page says of its root and body holds for the host here; paper rules have no place on the screen
    sheet.replaceSync(`${style
      .replaceAll(':root{', ':host{')
      .replace(/(^|\n|\})html\{/g, '$1:host{')
      .replaceAll('body{', '.page{')}
:host{display:block;color-scheme:light}.page{max-width:190mm;margin:0 auto;padding:10mm;background:var(--paper);color:var(--ink)}`);
    root.adoptedStyleSheets = [sheet];
    const tapeHtml = tape === undefined ? '' : `<p class="tape" role="note">${tape}</p>`;
    // the document's own landmark is the window's; inside it is an article
    root.innerHTML = `<article class="page" aria-label="${words.preview}">${tapeHtml}${body.replace('<main>', '<div class="main-part">').replace('</main>', '</div>')}${tapeHtml}</article>`;
  }, [style, body, tape]);
  return <div ref={host} className="bench-paper" />;
}

function useHash(text: string): string {
  const [hash, setHash] = useState('');
  useEffect(() => {
    let gone = false;
    void crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)).then((bytes) => {
      if (!gone) setHash([...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, '0')).join(''));
    });
    return () => {
      gone = true;
    };
  }, [text]);
  return hash;
}

function saveText(text: string, fileName: string, type: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: `${type};charset=utf-8` }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
