/** Reports and moving visits, behind the contract. */
import { ApplianceKnowledge } from '../../shared/measurement/knowledge.ts';
import { randomBytes } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { findInstrument } from '../../shared/bench/find-instrument.ts';
import type { Clock } from '../../shared/clock.ts';
import type { Handlers } from '../../shared/ipc/contract.ts';
import type { reportCommands } from '../../shared/ipc/report-commands.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import { documentKinds, type DocumentKind } from '../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { formatDay } from '../../shared/format/date.ts';
import { reportWords } from '../../shared/words/paper/page-one.ts';
import type { Download } from '../runs/stored/downloads.ts';
import { createRunFolder } from '../runs/file/run-folder.ts';
import { inThisThread, type Background } from '../background/background.ts';
import { createPauses } from '../pauses.ts';
import { photosHere } from '../photos/photo-files.ts';
import { stamp } from '../store/open.ts';
import { removeQuietly, workPath } from '../store/work-folder.ts';
import type { Records } from '../store/records.ts';
import { reportFonts } from './fonts.ts';
import { certificateHandlers } from './certificate-handlers.ts';
import { foldSettingsOf, gatherRecords, type ReportSources } from './gather-report.ts';
import { makeFile, reportMimes, type ReportFile, type ReportForm } from './make-files.ts';
import { mergeVisits } from './merge-visits.ts';
import { browserPrinter, printed, type PrintHtml } from './print.ts';
import { visitsFrom, type Links, type StoredBody } from './moving-visits.ts';
import type { PackageContent } from './visit-package.ts';
import type { PageOptions } from './page-options.ts';

export type ReportHandlers = Pick<Handlers, keyof typeof reportCommands>;

export type ReportServiceParts = {
  readonly clock: Clock;
  readonly dataFolder: string;
  readonly appVersion: string;
  readonly settings: () => Settings;
  readonly newId: () => string;
  readonly records: Pick<Records, 'visit' | 'use' | 'changeInSlices'>;
  /** runs that are written to at this moment */
  readonly runsUnderWay?: () => readonly string[];
  readonly offerDownload: (download: Download) => string;
  readonly takeUpload: (token: string) => { readonly path: string } | undefined;
  /** the host's own printer; without one an installed browser is looked for */
  readonly print?: PrintHtml | undefined;
  /** where runs are read and reports are made */
  readonly background?: Background;
  /** lists have to be read again */
  readonly recordsChanged: () => void;
};

export interface ReportService {
  readonly handlers: ReportHandlers;
  /** the page of a preview; stays until newer ones push it out */
  page(token: string): string | undefined;
}

/** Enough for a few windows that turn paper and units; each page is some hundred kB. */
const PAGES_KEPT = 8;

export function createReportService(parts: ReportServiceParts): ReportService {
  const {
    clock,
    dataFolder,
    appVersion,
    settings,
    records,
    offerDownload,
    takeUpload,
    newId,
    recordsChanged,
    background = inThisThread,
  } = parts;
  const pages = new Map<string, string>();
  // looked for once, when the first PDF is wanted
  let printer: { print: PrintHtml | undefined } | undefined;
  const print = (): PrintHtml | undefined => (printer ??= { print: parts.print ?? browserPrinter() }).print;

  const keepPage = (html: string): string => {
    const token = randomBytes(24).toString('base64url');
    pages.set(token, html);
    const [oldest] = pages.keys();
    if (pages.size > PAGES_KEPT && oldest !== undefined) pages.delete(oldest);
    return token;
  };

  const make = async (visitId: string, form: ReportForm, pages: PageOptions): Promise<Result<ReportFile, Problem>> => {
    const stored = await records.visit(visitId);
    if (!stored.ok) return stored;
    const { visit } = stored.value;
    const rest = await gatherRecords(visit, sourcesOf(records), appVersion);
    const known = settings();
    const place = { dataFolder, runIds: visit.runs.map(({ id }) => id), foldSettings: foldSettingsOf(known) };
    const options = { ...pages, csv: known.csv.separator, print: form === 'pdf' ? print() : undefined };
    return makeFile(form, options, (textForm, texts) => background.run('makeReport', { ...place, rest, form: textForm, ...texts }));
  };

  const handlers: ReportHandlers = {
    ...certificateHandlers({ appVersion, settings, records, offerDownload, print, keepPage }),
    async 'report.preview'({ visitId, ...pages }) {
      const page = await make(visitId, 'html', pages);
      return page.ok ? ok({ token: keepPage(String(page.value.content)) }) : page;
    },
    async 'report.readAhead'({ visitId }) {
      const read = await make(visitId, 'html', { paper: 'a4' });
      return read.ok ? ok({}) : read;
    },
    async 'report.make'({ visitId, form, ...pages }) {
      const made = await make(visitId, form, pages);
      if (!made.ok) return made;
      const { fileName, content, note } = made.value;
      const mime = reportMimes[form];
      return ok({
        fileName,
        note,
        download: offerDownload(typeof content === 'string' ? { fileName, mime, text: content } : { fileName, mime, bytes: content }),
      });
    },
    async 'geometry.sheet'({ visitId, paper }) {
      const stored = await records.visit(visitId);
      if (!stored.ok) return stored;
      const { visit } = stored.value;
      const day = formatDay(visit.startedWallMs, visit.zoneMinutes);
      // what makes pages is big, and reports are made in the background: this thread reads it when a sheet is wanted
      const [{ trueSizeHtml }, { tapeWords }] = await Promise.all([
        import('../../shared/report/true-size/true-size-html.tsx'),
        import('../../shared/report/make-report.ts'),
      ]);
      const html = trueSizeHtml({
        sheet: visit.setUp,
        title: `${reportWords.visit(visit.number)} · ${day}`,
        about: tapeWords(visit) ?? '',
        paper,
        fonts: reportFonts(),
      });
      const made = await printed(print(), html);
      if (!made.ok) return made;
      const fileName = `flueside-visit-${visit.number}-true-size.pdf`;
      return ok({ fileName, download: offerDownload({ fileName, mime: reportMimes.pdf, bytes: made.value.pdf }) });
    },
    async 'visit.export'({ ids }) {
      const runFolder = createRunFolder(join(dataFolder, 'runs'), background);
      const links = await background.run('visitLinks', {}, { feed: bodiesOf(records, ids) });
      if (!links.ok) return links;
      const content = await gatherPackage(records, links.value);
      if (!content.ok) return content;
      const runs: [string, string][] = [];
      for (const runId of links.value.runIds) {
        const path = runFolder.pathOf(runId);
        if (path !== undefined && (await runFolder.summary(runId)) !== undefined) runs.push([runId, path]);
      }
      const target = workPath(dataFolder, 'export', newId(), '.zip');
      const ask = {
        target,
        content: content.value,
        runs,
        photos: photosHere(dataFolder, links.value.photos),
        madeBy: `Flueside ${appVersion}`,
      };
      const packed = await background.run('packVisits', ask, { feed: bodiesOf(records, ids) });
      if (!packed.ok) {
        removeQuietly(target);
        return packed;
      }
      const fileName = `flueside-visits-${stamp(clock.wallMs()).slice(0, 19)}.zip`;
      return ok({ fileName, download: offerDownload({ fileName, mime: 'application/zip', filePath: target }) });
    },
    async 'visit.import'({ upload }) {
      const file = takeUpload(upload);
      if (file === undefined) return err(problem('file-not-found'));
      const unpacked = workPath(dataFolder, 'import', newId());
      try {
        const content = await background.run('unpackVisits', { path: file.path, into: unpacked });
        if (!content.ok) return content;
        const by = settings().technician.name || 'operator';
        const merged = await mergeVisits(
          { ...content.value, visits: visitsFrom(content.value.visits) },
          {
            dataFolder,
            unpacked,
            underWay: new Set(parts.runsUnderWay?.()),
            wallMs: clock.wallMs(),
            newId,
            by,
            inSlices: (work) => records.changeInSlices(work),
          },
        );
        if (merged.ok) recordsChanged();
        return merged;
      } finally {
        removeQuietly(file.path);
        // many files: not in one go; what cannot be removed now is removed at the next start
        await rm(unpacked, { recursive: true, force: true }).catch(() => undefined);
      }
    },
  };
  return { handlers, page: (token) => pages.get(token) };
}

type StoreTables = Parameters<Parameters<Records['use']>[0]>[0];

/** What goes with visits that name it; what is not there any more is left out. */
function gatherPackage(
  records: Pick<Records, 'use'>,
  { applianceIds, instruments: named }: Links,
): Promise<Result<PackageContent, Problem>> {
  return records.use((tables) => {
    const appliances = applianceIds.flatMap((id) => {
      const found = tables.appliances.get(id);
      return found.ok ? [{ id, appliance: found.value.appliance }] : [];
    });
    const stored = tables.documents.instrument.list({ limit: 1000 });
    const rows = stored.ok ? stored.value.rows : [];
    // two visits may name the same one differently
    const instruments = new Map(named.flatMap((one) => findInstrument(one, rows) ?? []).map((found) => [found.id, found]));
    const knowledge = [...appliances, ...instruments.values()].flatMap(({ id }) => {
      const known = ApplianceKnowledge.safeParse(documentIn(tables, 'knowledge', id)).data;
      return known === undefined ? [] : [{ applianceId: id, known }];
    });
    return ok({ appliances, instruments: [...instruments.values()], knowledge });
  });
}

/** Another visit is fetched when the last one has been dealt with. */
async function* bodiesOf(records: Pick<Records, 'use'>, ids: readonly string[]): AsyncGenerator<StoredBody> {
  const pauses = createPauses();
  for (const id of ids) {
    await pauses.take();
    yield await records.use(({ visits }) => visits.bodyOf(id));
  }
}
const isKind = (kind: string): kind is DocumentKind => Object.hasOwn(documentKinds, kind);

function documentIn(tables: StoreTables, kind: string, id: string): unknown {
  if (!isKind(kind)) return undefined;
  const found = tables.documents[kind].get(id);
  return found.ok ? found.value.body : undefined;
}

function sourcesOf(records: ReportServiceParts['records']): ReportSources {
  return {
    async appliance(id) {
      const found = await records.use((tables) => tables.appliances.get(id));
      return found.ok ? found.value.appliance : undefined;
    },
    async document(kind, id) {
      const found = await records.use((tables) => ok(documentIn(tables, kind, id)));
      return found.ok ? found.value : undefined;
    },
    async documents(kind) {
      if (!isKind(kind)) return [];
      const found = await records.use((tables) => tables.documents[kind].list({ limit: 1000 }));
      return found.ok ? found.value.rows.map(({ id, body }) => ({ id, body })) : [];
    },
    async documentsOf(kind, parentId) {
      if (!isKind(kind)) return [];
      const found = await records.use((tables) => tables.documents[kind].list({ parentId, limit: 200 }));
      return found.ok ? found.value.rows.map(({ body }) => body) : [];
    },
  };
}
