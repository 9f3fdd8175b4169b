/** node main/scripts/program.mjs tests/paper/paper.ts OUT [NAME ...]: the invented visits, and a true-size sheet of training figures, as PDFs on both papers, to be looked at. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeReportFile } from '../../main/report/make-files.ts';
import { reportFonts } from '../../main/report/fonts.ts';
import { browserPrinter, printed } from '../../main/report/print.ts';
import { trainingCards } from '../../shared/geometry/training-cards.ts';
import { trueSizeHtml } from '../../shared/report/true-size/true-size-html.tsx';
import { SetUpSheet } from '../../shared/tuning/set-up/set-up-sheet.ts';
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

if (names.length === 0 || names.includes('true-size')) {
  const asFound = {
    electrodeGap: '1/8',
    heightAboveCentreline: '7/16',
    aheadOfNozzle: '3/32',
    nozzleToHead: '15/16',
    headToTubeEnd: '3/4',
  };
  const rows = Object.fromEntries(Object.entries(asFound).map(([item, typed]) => [item, { asFound: typed }]));
  const geometry = { card: trainingCards[1], tubeEnd: 'straight', arrangement: 'two', rows };
  const sheet = SetUpSheet.parse({ lengthUnit: 'inch', rows: {}, geometry });
  for (const paper of ['letter', 'a4'] as const) {
    const html = trueSizeHtml({ sheet, title: 'Visit 42', about: '', paper, fonts: reportFonts() });
    const made = await printed(print, html);
    if (made.ok) writeFileSync(join(out, `true-size-${paper}.pdf`), made.value.pdf);
    else console.error('true-size', made.error.code, made.error.detail ?? '');
  }
}
