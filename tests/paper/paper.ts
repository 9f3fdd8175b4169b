/** node main/scripts/program.mjs tests/paper/paper.ts OUT [NAME ...]: the invented visits as PDFs on both papers, to be looked at. */
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
  for (const paper of ['letter', 'a4'] as const)
    for (const part of ['report', 'label'] as const) {
      const made = await makeReportFile(input, 'pdf', { paper, part, annex: true, csv: 'comma', print });
      if (made.ok) writeFileSync(join(out, `${name}-${part}-${paper}.pdf`), made.value.content);
      else console.error(name, made.error.code, made.error.detail ?? '');
    }
}
