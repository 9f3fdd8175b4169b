/** node main/scripts/program.mjs tests/paper/paper.ts OUT [NAME ...]: the invented visits as pages and PDFs, to be looked at. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeReportFile } from '../../main/report/make-files.ts';
import { browserPrinter } from '../../main/report/print.ts';
import { inventedVisits, type InventedVisit } from './visits.ts';

const [out = 'paper-out', ...names] = process.argv.slice(2);
mkdirSync(out, { recursive: true });
const print = browserPrinter();
const wanted = Object.keys(inventedVisits).filter((name): name is InventedVisit => names.length === 0 || names.includes(name));
for (const name of wanted) {
  const input = inventedVisits[name]();
  const paper = input.units === 'metric' ? 'a4' : 'letter';
  for (const form of ['html', 'pdf'] as const) {
    const made = await makeReportFile(input, form, { paper, csv: 'comma', print });
    if (made.ok) writeFileSync(join(out, `${name}.${form}`), made.value.content);
    else console.error(name, form, made.error.code, made.error.detail ?? '');
  }
}
