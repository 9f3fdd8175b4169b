/** The long work itself. What goes in and comes out is plain data: it travels between threads. */
import { basename, dirname } from 'node:path';
import type { CsvStyle } from '../../shared/format/csv.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import type { FoldSettings } from '../../shared/pipeline/run-fold.ts';
import { judgeLines, type Judgement, type LinesToJudge } from '../../shared/pipeline/propose.ts';
import type { Problem } from '../../shared/problem.ts';
import type { ReportInput } from '../../shared/report/report-input.ts';
import type { Paper, ReportFonts } from '../../shared/report/pages/report-style.ts';
import type { Result } from '../../shared/result.ts';
import { defined } from '../../shared/defined.ts';
import { packVisits, type PackageContent } from '../report/visit-package.ts';
import { linksOf, unpackToFiles, visitsIn, type ArrivedFiles, type Links } from '../report/moving-visits.ts';
import { createReportRuns, loadRuns, type ReportRuns } from '../report/load-run.ts';
import { reportText, type ReportText, type TextForm } from '../report/report-text.ts';
import { exportRun, type ExportForm } from '../runs/stored/run-export.ts';
import { openRunFile } from '../runs/file/run-file.ts';
import { STORED_RUN_ENDING } from '../runs/file/run-path.ts';
import { forgetStored, keptResultsOf, openStored, type HistoryWish, type StoredAsk } from '../runs/stored/stored-answers.ts';
import { findJudged } from '../runs/stored/stored-runs.ts';
import { reportPhotos } from '../photos/photo-files.ts';
import type { ZipSource } from '../store/backup/zip.ts';
import { measureRun } from '../runs/stored/measure-run.ts';
import { readBackup, writeBackup, type BackupHead, type Manifest } from '../store/backup/backup-file.ts';

export type Watch = {
  readonly reached: (share: number) => void;
  readonly signal?: AbortSignal;
  readonly feed: AsyncIterable<unknown> | Iterable<unknown>;
};

export type ExportAsk = {
  readonly form: ExportForm;
  readonly path: string;
  readonly isReplay: boolean;
  readonly settings: Settings;
  readonly foldSettings: FoldSettings;
  readonly target: string;
};
export type ReportAsk = {
  readonly dataFolder: string;
  readonly runIds: readonly string[];
  readonly foldSettings: FoldSettings;
  readonly rest: Omit<ReportInput, 'runs'>;
  readonly form: TextForm;
  readonly paper: Paper;
  readonly csv: CsvStyle;
  readonly fonts: ReportFonts;
};

export type PackAsk = {
  readonly target: string;
  readonly content: PackageContent;
  readonly runs: readonly (readonly [string, string])[];
  readonly photos: readonly { readonly name: string; readonly path: string }[];
  readonly madeBy: string;
};

type OneRun = { readonly runId: string };

/** by data folder: a process serves one, tests more */
const reportRuns = new Map<string, ReportRuns>();
function reportRunsOf(dataFolder: string): ReportRuns {
  const known = reportRuns.get(dataFolder) ?? createReportRuns(dataFolder, keptResultsOf(dataFolder));
  reportRuns.set(dataFolder, known);
  return known;
}

export const jobs = {
  /** @throws what the disk throws; half a file is left then */
  async exportRun({ form, path, isReplay, settings, foldSettings, target }: ExportAsk, watch: Watch): Promise<Result<undefined, Problem>> {
    const file = await openRunFile(path);
    if (!file.ok) return file;
    const kept = keptResultsOf(dirname(dirname(path)));
    const found = () => findJudged(kept, basename(path, STORED_RUN_ENDING), path, foldSettings);
    await exportRun(form, { file: file.value, isReplay, settings, foldSettings, found }, target, watch);
    return { ok: true, value: undefined };
  },

  /** what lists show of a run; its whole file is read for that */
  measureRun: ({ path, runId }: { readonly path: string; readonly runId: string }) => measureRun(path, runId),

  storedHistory: ({ runId, wish, ...place }: StoredAsk & OneRun & { readonly wish: HistoryWish }) =>
    openStored(place).answers.history(runId, wish),
  storedLines: ({ runId, count, ...place }: StoredAsk & OneRun & { readonly count: number }) =>
    openStored(place).answers.lines(runId, count),
  storedLogged: ({ runId, count, ...place }: StoredAsk & OneRun & { readonly count: number }) =>
    openStored(place).answers.logged(runId, count),
  storedRecipes: ({ runId, ...place }: StoredAsk & OneRun) => openStored(place).answers.recipes(runId),
  storedReread: ({ runId, recipe, ...place }: StoredAsk & OneRun & { readonly recipe: LineRecipe }) =>
    openStored(place).answers.reread(runId, recipe),
  forgetStored({ runsFolder, runId }: { readonly runsFolder: string; readonly runId: string | undefined }): Promise<void> {
    forgetStored(runsFolder, runId);
    return Promise.resolve();
  },

  async makeReport({ dataFolder, runIds, foldSettings, rest, form, paper, csv, fonts }: ReportAsk): Promise<ReportText> {
    const runs = await loadRuns(reportRunsOf(dataFolder), runIds, foldSettings);
    const photos = form === 'html' ? reportPhotos(dataFolder, rest.visit) : undefined;
    return reportText({ ...rest, runs, ...defined({ photos }) }, form, { paper, csv, fonts });
  },

  /** Writes it and reads it back. @throws what the disk throws */
  async writeBackup({
    part,
    sources,
    head,
  }: {
    readonly part: string;
    readonly sources: readonly ZipSource[];
    readonly head: BackupHead;
  }): Promise<Result<Manifest, Problem>> {
    await writeBackup(part, sources, head);
    return readBackup(part, undefined);
  },

  /** what visits name; `feed` holds each as it is stored, or why it is not there */
  visitLinks: (_: object, { feed }: Watch): Promise<Result<Links, Problem>> => linksOf(feed),
  packVisits: ({ target, content, runs, photos, madeBy }: PackAsk, { feed }: Watch): Promise<Result<undefined, Problem>> =>
    packVisits(target, { ...content, visits: visitsIn(feed) }, new Map(runs), madeBy, photos),
  unpackVisits: ({ path, into }: { readonly path: string; readonly into: string }): Promise<Result<ArrivedFiles, Problem>> =>
    unpackToFiles(path, into),

  /** what lines are that no recipe describes */
  judgeLines: ({ lines, least }: LinesToJudge): Promise<Judgement> => Promise.resolve(judgeLines(lines, least)),

  readBackup: ({ path, into }: { readonly path: string; readonly into: string }): Promise<Result<Manifest, Problem>> =>
    readBackup(path, into),
};
export type Jobs = typeof jobs;
export type JobName = keyof Jobs;
