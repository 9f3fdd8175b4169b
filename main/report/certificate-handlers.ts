/** The certificate of a bench test, by the same printer and pages as a visit's report. */
import { createHash } from 'node:crypto';
import { BenchTest } from '../../shared/bench/bench-test.ts';
import type { Handlers } from '../../shared/ipc/contract.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { Problem } from '../../shared/problem.ts';
import { problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { certificateCsv, certificateJson } from '../../shared/report/certificate/bench-certificate-data.ts';
import { certificateOf, certificateRaw, type CertificateInput } from '../../shared/report/certificate/bench-certificate.ts';
import type { Paper } from '../../shared/report/pages/report-style.ts';
import type { Download } from '../runs/stored/downloads.ts';
import type { Records } from '../store/records.ts';
import { reportFonts } from './fonts.ts';
import { reportMimes, type ReportForm } from './make-files.ts';
import { printed, type PrintHtml } from './print.ts';

export type CertificateHandlers = Pick<Handlers, 'certificate.preview' | 'certificate.make'>;
export type CertificateParts = {
  readonly appVersion: string;
  readonly settings: () => Settings;
  readonly records: Pick<Records, 'use'>;
  readonly offerDownload: (download: Download) => string;
  readonly print: () => PrintHtml | undefined;
  /** @returns the token of the page */
  readonly keepPage: (html: string) => string;
};

export function certificateHandlers({
  appVersion,
  settings,
  records,
  offerDownload,
  print,
  keepPage,
}: CertificateParts): CertificateHandlers {
  const inputOf = (testId: string): Promise<Result<CertificateInput, Problem>> =>
    records.use((tables) => {
      const stored = tables.documents['bench-test'].get(testId);
      if (!stored.ok) return stored;
      const test = BenchTest.safeParse(stored.value.body);
      if (!test.success) return err(problem('store-damaged', test.error.issues[0]?.message));
      const hash = createHash('sha256').update(certificateRaw(test.data)).digest('hex');
      return ok({ test: test.data, hash, software: `Flueside ${appVersion}`, altered: stored.value.altered });
    });
  const pageOf = async (input: CertificateInput, paper: Paper): Promise<string> => {
    // what makes pages is big: read when one is wanted
    const { certificateHtml } = await import('../../shared/report/certificate/bench-certificate-html.tsx');
    return certificateHtml(certificateOf(input), { paper, fonts: reportFonts() });
  };

  async function contentOf(input: CertificateInput, paper: Paper, form: ReportForm): Promise<Result<string | Uint8Array, Problem>> {
    switch (form) {
      case 'csv':
        return ok(certificateCsv(input, settings().csv.separator));
      case 'json':
        return ok(certificateJson(input));
      case 'html':
        return ok(await pageOf(input, paper));
      case 'pdf': {
        const made = await printed(print(), await pageOf(input, paper));
        return made.ok ? ok(made.value.pdf) : made;
      }
    }
  }

  return {
    async 'certificate.preview'({ testId, paper }) {
      const input = await inputOf(testId);
      return input.ok ? ok({ token: keepPage(await pageOf(input.value, paper)) }) : input;
    },
    async 'certificate.make'({ testId, paper, form }) {
      const input = await inputOf(testId);
      if (!input.ok) return input;
      const content = await contentOf(input.value, paper, form);
      if (!content.ok) return content;
      const fileName = `${certificateOf(input.value).fileStem}.${form}`;
      const mime = reportMimes[form];
      return ok({
        fileName,
        download: offerDownload(
          typeof content.value === 'string' ? { fileName, mime, text: content.value } : { fileName, mime, bytes: content.value },
        ),
      });
    },
  };
}
