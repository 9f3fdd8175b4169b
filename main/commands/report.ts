/** `report`: a visit as PDF, HTML, CSV and JSON files, without a window. */
import { existsSync, mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { comparisonHtml } from '../../shared/report/comparison/comparison-html.tsx';
import type { ReportPart } from '../../shared/report/pages/report-html.tsx';
import { reportSchema } from '../../shared/report/report-json.ts';
import type { Paper } from '../../shared/report/pages/report-style.ts';
import { withCorrections, type Visit } from '../../shared/tuning/visit/visit.ts';
import { dataFolder } from '../paths.ts';
import { gatherReport, type ReportSources } from '../report/gather-report.ts';
import { createReportRuns } from '../report/load-run.ts';
import { reportFonts } from '../report/fonts.ts';
import { reportPhotos } from '../photos/photo-files.ts';
import { makeReportFile, reportForms, type ReportFile, type ReportForm } from '../report/make-files.ts';
import { browserPrinter, printed } from '../report/print.ts';
import { openSettings } from '../settings/settings-file.ts';
import { createAppliances } from '../store/appliances.ts';
import type { Database, Row } from '../store/database.ts';
import { parseJson } from '../store/documents.ts';
import { writeWhole } from '../store/files.ts';
import { RECORDS_FILE, openRecords } from '../store/open.ts';
import { createVisits } from '../store/visits.ts';
import { appVersion } from '../version.ts';
import { EXIT_DONE, EXIT_FAILURE, fail, readOptions, type Command, type CommandIo } from './command.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { reportTexts } from '../../shared/words/commands/records.ts';
import { defined } from '../../shared/defined.ts';

const options = {
  out: { type: 'string' },
  paper: { type: 'string' },
  form: { type: 'string' },
  units: { type: 'string' },
  part: { type: 'string' },
  annex: { type: 'boolean' },
  compare: { type: 'string' },
  schema: { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

const usage = reportTexts.usage;

export const command: Command = {
  name: 'report',
  usage,
  run,
};

type Wish = {
  visit: string;
  out: string;
  paper: Paper | undefined;
  forms: ReportForm[];
  units: 'us' | 'metric' | undefined;
  parts: ReportPart[];
  annex: boolean;
  compare: string[];
};
const partNames: readonly ReportPart[] = ['report', 'owner', 'label'];

async function run(args: string[], io: CommandIo): Promise<number> {
  const read = readOptions(args, options, 1);
  if (!read.ok) return fail(io, read.error);
  const { values, positionals } = read.value;
  if (values.schema === true) {
    io.out(JSON.stringify(reportSchema(), undefined, 2));
    return EXIT_DONE;
  }
  const wish = readWish(positionals[0], values);
  if (!wish.ok) return fail(io, wish.error);
  const folder = io.dataFolder ?? dataFolder();
  // looking must not begin a records file where there is none
  if (!existsSync(join(folder, RECORDS_FILE))) return fail(io, problem('not-found', reportTexts.noRecords(folder)));
  const opened = await openRecords({ folder, wallMs: io.clock.wallMs(), guest: true });
  if (!opened.ok) return fail(io, opened.error);
  try {
    return await write(wish.value, folder, opened.value.db, values.json === true, io);
  } finally {
    opened.value.close();
  }
}

function readWish(
  visit: string | undefined,
  {
    out,
    paper,
    form,
    units,
    part,
    annex,
    compare,
  }: { out?: string; paper?: string; form?: string; units?: string; part?: string; annex?: boolean; compare?: string },
): Result<Wish, Problem> {
  if (visit === undefined) return err(problem('usage', reportTexts.nameVisit));
  if (out === undefined) return err(problem('usage', reportTexts.sayWhere));
  if (paper !== undefined && paper !== 'a4' && paper !== 'letter') return err(problem('usage', '--paper is a4 or letter.'));
  if (units !== undefined && units !== 'us' && units !== 'metric') return err(problem('usage', '--units is us or metric.'));
  const forms = (form ?? 'pdf').split(',').map((one) => one.trim());
  const known = forms.filter((one): one is ReportForm => (reportForms as readonly string[]).includes(one));
  if (known.length !== forms.length) return err(problem('usage', `--form takes ${reportForms.join(', ')}.`));
  const named = (part ?? 'report').split(',').map((one) => one.trim());
  const parts = partNames.filter((one) => named.includes(one));
  if (named.some((one) => !partNames.some((name) => name === one))) return err(problem('usage', `--part takes ${partNames.join(', ')}.`));
  const others = compare === undefined ? [] : compare.split(',').map((one) => one.trim());
  if (others.includes('')) return err(problem('usage', reportTexts.compare));
  return ok({ visit, out, paper, forms: [...new Set(known)], units, parts, annex: annex === true, compare: others });
}

async function write(wish: Wish, folder: string, db: Database, isJson: boolean, io: CommandIo): Promise<number> {
  const visit = findVisit(db, wish.visit);
  if (!visit.ok) return fail(io, visit.error);
  const settings = openSettings(folder, io.clock).current();
  const report = await gatherReport(visit.value, sourcesOf(db), { runs: createReportRuns(folder), appVersion, settings });
  const gathered = { ...report, photos: reportPhotos(folder, visit.value) };
  const input = wish.units === undefined ? gathered : { ...gathered, units: wish.units };
  const print = browserPrinter();
  const out = resolve(io.cwd, wish.out);
  try {
    mkdirSync(out, { recursive: true });
  } catch (failure) {
    return fail(io, problem('disk-failed', (failure as Error).message));
  }
  const written: { form: ReportForm; file: string }[] = [];
  const notes = new Set<string>();
  let exit = EXIT_DONE;
  const units = input.units ?? input.visit.unitPreset;
  const paper = wish.paper ?? (units === 'us' ? 'letter' : 'a4');
  /** @returns false when it could not be written, which has been said */
  const keep = ({ form, fileName, content, note }: ReportFile): boolean => {
    const file = join(out, fileName);
    try {
      writeWhole(file, content);
    } catch (failure) {
      fail(io, problem('disk-failed', (failure as Error).message));
      return false;
    }
    written.push({ form, file });
    if (note !== undefined) notes.add(note);
    return true;
  };
  for (const part of wish.parts) {
    // figures and data are the visit's, whichever page is asked for
    const forms = wish.forms.filter((form) => part === 'report' || form === 'pdf' || form === 'html');
    for (let form = forms.shift(); form !== undefined; form = forms.shift()) {
      const made = await makeReportFile(input, form, { paper, part, annex: wish.annex, csv: settings.csv.separator, print });
      if (made.ok) {
        if (!keep(made.value)) return EXIT_FAILURE;
        continue;
      }
      // a report is never lost for want of a printer: the page itself is written, and that is said
      notes.add(problemLine(made.error));
      if (made.error.code !== 'no-printer') exit = EXIT_FAILURE;
      if (!wish.forms.includes('html') && !forms.includes('html')) forms.push('html');
    }
  }
  if (wish.compare.length > 0) {
    const others: Visit[] = [];
    for (const one of wish.compare) {
      const found = findVisit(db, one);
      if (!found.ok) return fail(io, found.error);
      others.push(found.value);
    }
    const visits = [input.visit, ...others.filter(({ id }) => id !== input.visit.id)].map(withCorrections);
    const html = comparisonHtml({ visits, appliance: input.appliance, units }, { paper, fonts: reportFonts() });
    const stem = `flueside-comparison-${input.visit.number}`;
    const pdf = wish.forms.includes('pdf') ? await printed(print, html) : undefined;
    if (pdf?.ok === true && !keep({ form: 'pdf', fileName: `${stem}.pdf`, content: pdf.value.pdf, ...defined({ note: pdf.value.note }) }))
      return EXIT_FAILURE;
    if (pdf?.ok === false) notes.add(problemLine(pdf.error));
    if (pdf?.ok !== true || wish.forms.includes('html')) {
      if (!keep({ form: 'html', fileName: `${stem}.html`, content: html })) return EXIT_FAILURE;
    }
  }
  for (const note of notes) io.error(note);
  if (isJson) io.out(JSON.stringify({ visit: input.visit.number, id: input.visit.id, files: written, notes: [...notes] }));
  else for (const { file } of written) io.out(file);
  return exit;
}

function findVisit(db: Database, wanted: string): Result<Visit, Problem> {
  const row = /^\d{1,9}$/.test(wanted) ? db.one('SELECT id FROM visit WHERE number = ?', Number(wanted)) : undefined;
  const stored = createVisits(db, () => undefined).get(row === undefined ? wanted : String(row['id']));
  if (stored.ok) return ok(stored.value.visit);
  return err(stored.error.code === 'not-found' ? problem('not-found', reportTexts.noVisit(wanted)) : stored.error);
}

const bodyOf = (row: Row | undefined): unknown => {
  const body = row?.['body'];
  return typeof body === 'string' ? parseJson(body) : undefined;
};

function sourcesOf(db: Database): ReportSources {
  const appliances = createAppliances(db);
  return {
    appliance: (id) => {
      const found = appliances.get(id);
      return Promise.resolve(found.ok ? found.value.appliance : undefined);
    },
    document: (kind, id) => Promise.resolve(bodyOf(db.one('SELECT body FROM document WHERE kind = ? AND id = ?', kind, id))),
    documents: (kind) =>
      Promise.resolve(
        db
          .all('SELECT id, body FROM document WHERE kind = ? LIMIT 1000', kind)
          .map((row) => ({ id: String(row['id']), body: bodyOf(row) })),
      ),
    documentsOf: (kind, parentId) =>
      Promise.resolve(
        db.all('SELECT body FROM document WHERE kind = ? AND parent_id = ? ORDER BY changed_ms DESC LIMIT 200', kind, parentId).map(bodyOf),
      ),
  };
}
