/** `report`: a visit as PDF, HTML, CSV and JSON files, without a window. */
import { existsSync, mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { problem, problemLine, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { reportSchema } from '../../shared/report/report-json.ts';
import type { Visit } from '../../shared/tuning/visit.ts';
import { dataFolder } from '../paths.ts';
import { gatherReport, type ReportSources } from '../report/gather-report.ts';
import { createReportRuns } from '../report/load-run.ts';
import { makeReportFile, reportForms, type ReportForm } from '../report/make-files.ts';
import { browserPrinter } from '../report/print.ts';
import { openSettings } from '../settings/settings-file.ts';
import { createAppliances } from '../store/appliances.ts';
import type { Database, Row } from '../store/database.ts';
import { parseJson } from '../store/documents.ts';
import { writeWhole } from '../store/files.ts';
import { RECORDS_FILE, openRecords } from '../store/open.ts';
import { createVisits } from '../store/visits.ts';
import { appVersion } from '../version.ts';
import { EXIT_DONE, EXIT_FAILURE, fail, readOptions, type Command, type CommandIo } from './command.ts';

const options = {
  out: { type: 'string' },
  paper: { type: 'string' },
  form: { type: 'string' },
  units: { type: 'string' },
  schema: { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

const usage = `Usage: flueside report VISIT --out DIR [--paper a4|letter] [--form pdf,html,csv,json] [--units us|metric] [--data DIR] [--json]
       flueside report --schema

Writes the report of a visit into DIR. VISIT is its number or its id. The PDF is printed by an installed browser of the Chromium family;
without one the HTML is written instead, and that is said.

  --paper    letter (default in US units) or a4
  --form     which files, parted by commas (default pdf)
  --units    other units than those of the visit
  --schema   prints the JSON Schema of the JSON form
  --json     prints what was written as one JSON object`;

export const command: Command = {
  name: 'report',
  summary: 'The report of a visit as PDF, HTML, CSV and JSON.',
  usage,
  run,
};

type Wish = { visit: string; out: string; paper: 'a4' | 'letter' | undefined; forms: ReportForm[]; units: 'us' | 'metric' | undefined };

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
  if (!existsSync(join(folder, RECORDS_FILE))) return fail(io, problem('not-found', `There are no records in ${folder}.`));
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
  { out, paper, form, units }: { out?: string; paper?: string; form?: string; units?: string },
): Result<Wish, Problem> {
  if (visit === undefined) return err(problem('usage', 'Name a visit by its number or its id.'));
  if (out === undefined) return err(problem('usage', 'Say where to write with --out DIR.'));
  if (paper !== undefined && paper !== 'a4' && paper !== 'letter') return err(problem('usage', '--paper is a4 or letter.'));
  if (units !== undefined && units !== 'us' && units !== 'metric') return err(problem('usage', '--units is us or metric.'));
  const forms = (form ?? 'pdf').split(',').map((one) => one.trim());
  const known = forms.filter((one): one is ReportForm => (reportForms as readonly string[]).includes(one));
  if (known.length !== forms.length) return err(problem('usage', `--form takes ${reportForms.join(', ')}.`));
  return ok({ visit, out, paper, forms: [...new Set(known)], units });
}

async function write(wish: Wish, folder: string, db: Database, isJson: boolean, io: CommandIo): Promise<number> {
  const visit = findVisit(db, wish.visit);
  if (!visit.ok) return fail(io, visit.error);
  const settings = openSettings(folder, io.clock).current();
  const gathered = await gatherReport(visit.value, sourcesOf(db), { runs: createReportRuns(folder), appVersion, settings });
  const input = wish.units === undefined ? gathered : { ...gathered, units: wish.units };
  const print = browserPrinter();
  const out = resolve(io.cwd, wish.out);
  try {
    mkdirSync(out, { recursive: true });
  } catch (failure) {
    return fail(io, problem('disk-failed', (failure as Error).message));
  }
  const written: { form: ReportForm; file: string }[] = [];
  const notes: string[] = [];
  let exit = EXIT_DONE;
  const forms = [...wish.forms];
  for (let form = forms.shift(); form !== undefined; form = forms.shift()) {
    const paper = wish.paper ?? ((input.units ?? input.visit.unitPreset) === 'us' ? 'letter' : 'a4');
    const made = await makeReportFile(input, form, { paper, csv: settings.csv.separator, print });
    if (made.ok) {
      const file = join(out, made.value.fileName);
      try {
        writeWhole(file, made.value.content);
      } catch (failure) {
        return fail(io, problem('disk-failed', (failure as Error).message));
      }
      written.push({ form, file });
      continue;
    }
    // a report is never lost for want of a printer: the page itself is written, and that is said
    notes.push(problemLine(made.error));
    if (made.error.code !== 'no-printer') exit = EXIT_FAILURE;
    if (!wish.forms.includes('html') && !forms.includes('html')) forms.push('html');
  }
  for (const note of notes) io.error(note);
  if (isJson) io.out(JSON.stringify({ visit: input.visit.number, id: input.visit.id, files: written, notes }));
  else for (const { file } of written) io.out(file);
  return exit;
}

function findVisit(db: Database, wanted: string): Result<Visit, Problem> {
  const row = /^\d{1,9}$/.test(wanted) ? db.one('SELECT id FROM visit WHERE number = ?', Number(wanted)) : undefined;
  const stored = createVisits(db, () => undefined).get(row === undefined ? wanted : String(row['id']));
  if (stored.ok) return ok(stored.value.visit);
  return err(stored.error.code === 'not-found' ? problem('not-found', `There is no visit ${wanted}.`) : stored.error);
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
