/** The certificate's page, for screen and paper, in the look of the report. No script, nothing loaded from elsewhere. */
import { PAGE_POLICY } from './page-policy.ts';
import type { Verdict } from '../bench/test-result.ts';
import type { CardVerdict } from '../tuning/target-card.ts';
import { bench } from '../words/bench.ts';
import type { Certificate, CertificateRow } from './bench-certificate.ts';
import { escapeText, withSubscripts } from './drawings/svg.ts';
import { verdictScale } from './drawings/verdict-scale.ts';
import { verdictSign } from './drawings/verdict-sign.ts';
import { reportStyle, type Paper, type ReportFonts } from './report-style.ts';

const words = bench.certificate;
const t = withSubscripts;
const shapeOf = (verdict: Verdict): CardVerdict =>
  verdict === 'conditional' ? 'too-close' : verdict === 'not-judged' ? 'not-known' : verdict;

const certificateStyle = (certificate: Certificate, { paper, fonts }: { paper: Paper; fonts: ReportFonts }): string =>
  `${reportStyle({ paper, fonts, tape: certificate.tape, foot: { cautions: words.holds, run: certificate.hash.slice(0, 16) }, page: { page: words.pageWord, of: words.of } })}
main h2{margin:10px 0 4px;padding-top:6px;border-top:1px solid var(--edge)}main h3{margin:7px 0 2px}
main table{border-collapse:collapse;width:100%;font-size:9.5pt}main th{text-align:left;font-weight:400;color:var(--ink-2);font-size:9pt;padding:2px 8px 3px 0;vertical-align:bottom}main th.r,main td.r{text-align:right;white-space:nowrap}main td{border-top:1px solid var(--hairline);padding:1px 8px 1px 0;vertical-align:middle;height:21px}main thead td{border:0}main tr{break-inside:avoid}
.vd{display:flex;gap:6px;align-items:center;white-space:nowrap}.vd>svg{flex:none;max-width:none}.ids{columns:2;column-gap:8mm;font-size:10pt}.ids div{display:grid;grid-template-columns:31mm 1fr;gap:2px 8px;break-inside:avoid;padding:1.5px 0}.ids dt{color:var(--ink-2)}.ids dd{margin:0}
.notes{font-size:10pt;padding-left:16px}.notes li{margin:2px 0}.mono{font-family:"Flueside Mono",ui-monospace,monospace;font-size:8pt;overflow-wrap:anywhere}
`;

export function certificateHtml(certificate: Certificate, options: { paper: Paper; fonts: ReportFonts }): string {
  const tape = certificate.tape === undefined ? '' : `<p class="tape" role="note">${t(certificate.tape)}</p>`;
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">',
    PAGE_POLICY,
    `<title>${escapeText(certificate.documentTitle)}</title>`,
    `<style>${certificateStyle(certificate, options)}</style></head><body>`,
    tape,
    certificateBody(certificate),
    tape,
    '</body></html>',
  ].join('\n');
}

function certificateBody(certificate: Certificate): string {
  const { verdict, signature } = certificate;
  return [
    `<main><header class="head"><div><h1>${t(certificate.title)}</h1><p class="n2">${t(certificate.instrumentLine)}</p></div><p class="side">${certificate.side.map(t).join('<br>')}</p></header>`,
    `<section class="verdict">${verdictSign(shapeOf(verdict.verdict), '', 40)}<div><p class="n2">${t(words.conclusion)}</p><h3>${t(verdict.sentence)}</h3></div></section>`,
    `<section><h2>${t(words.header)}</h2><dl class="ids">${certificate.facts.map(({ label, value }) => `<div><dt>${t(label)}</dt><dd>${t(value)}</dd></div>`).join('')}</dl></section>`,
    gasTable(certificate.gases),
    ...certificate.rounds.map((round, i) => roundHtml(round, i, certificate)),
    `<section><h2>${t(words.foot)}</h2><ul class="notes">${certificate.foot.map((line) => `<li>${t(line)}</li>`).join('')}</ul><p class="mono">${t(words.hash)}: ${t(certificate.hash)}</p></section>`,
    `<section class="sign"><div><div class="ln">${t(signature.name)}</div>${t(words.facts.person)}</div><div><div class="ln">${t(signature.when)}</div>${t(words.facts.time)}</div><div><b>${t(signature.state)}</b></div></section></main>`,
  ].join('\n');
}

const cell = (text: string, right = false): string => `<td${right ? ' class="r"' : ''}>${t(text)}</td>`;
const head = (labels: readonly (readonly [string, boolean?])[]): string =>
  `<thead><tr>${labels.map(([label, right]) => (label === '' ? '<td></td>' : `<th scope="col"${right === true ? ' class="r"' : ''}>${t(label)}</th>`)).join('')}</tr></thead>`;
const verdictCell = (verdict: Verdict): string =>
  `<td><span class="vd">${verdictSign(shapeOf(verdict), '', 20)}<span>${t(bench.result.verdicts[verdict])}</span></span></td>`;

function gasTable(gases: Certificate['gases']): string {
  const columns = words.gasColumns;
  const rows = gases.map(
    ({ gas, bottle, certificate, value, expires, note }) =>
      `<tr>${cell(gas)}${cell(bottle)}${cell(certificate)}<td>${t(value)}${note === undefined ? '' : `<br><b>${t(note)}</b>`}</td>${cell(expires)}</tr>`,
  );
  return `<section><h2>${t(words.gases)}</h2><table>${head([[columns.gas], [columns.bottle], [columns.certificate], [columns.value], [columns.expires]])}<tbody>${rows.join('')}</tbody></table></section>`;
}

function roundHtml(round: Certificate['rounds'][number], index: number, { adjustment, rounds }: Certificate): string {
  const columns = words.tableColumns;
  const scale = ({ scale: one, verdict }: CertificateRow): string =>
    one === undefined
      ? ''
      : verdictScale({
          value: one.value,
          expanded: one.expanded,
          low: -one.limit,
          high: one.limit,
          floor: undefined,
          verdict: shapeOf(verdict),
          label: '',
        }).replace('width="144" height="30"', 'width="108" height="22.5"');
  const rows = round.rows.map(
    (row) =>
      `<tr><td><b>${t(row.channel)}</b></td>${cell(row.gas)}${cell(row.reference, true)}${cell(row.reading, true)}<td class="r"><b>${t(row.error)}</b></td>${cell(row.limit, true)}${cell(row.u, true)}<td>${scale(row)}</td>${verdictCell(row.verdict)}</tr>`,
  );
  const further = round.further.map(
    ({ channel, name, value, limit, verdict }) =>
      `<tr><td><b>${t(channel)}</b> ${t(name)}</td>${cell(value, true)}${cell(limit, true)}${verdictCell(verdict)}</tr>`,
  );
  const budgets = round.rows.map(
    ({ channel, gas, u, budget }) =>
      `<tr><td class="nw"><b>${t(channel)}</b> ${t(gas)}</td><td>${t(budget.map(({ name, u: part }) => `${name} ${part}`).join('; '))}</td>${cell(u, true)}</tr>`,
  );
  return [
    `<section><h2>${t(round.title)}</h2>`,
    `<table>${head([[columns.channel], [columns.gas], [columns.reference, true], [columns.reading, true], [columns.error, true], [columns.limit, true], [columns.u, true], [''], [columns.verdict]])}<tbody>${rows.join('')}</tbody></table>`,
    further.length === 0
      ? ''
      : `<h3>${t(words.further)}</h3><table>${head([[words.furtherColumns.test], [words.furtherColumns.result, true], [words.furtherColumns.limit, true], [words.furtherColumns.verdict]])}<tbody>${further.join('')}</tbody></table>`,
    `<h3>${t(words.budgets)}</h3><table><tbody>${budgets.join('')}</tbody></table>`,
    round.deviations.length === 0
      ? ''
      : `<h3>${t(words.deviations)}</h3><ul class="notes">${round.deviations.map((line) => `<li>${t(line)}</li>`).join('')}</ul>`,
    index === 0 || index < rounds.length - 1 ? `<p class="n2">${t(adjustment)}</p>` : '',
    '</section>',
  ].join('');
}
