/** The one template of the report, for screen and paper. It sets what the model says and adds no word of its own; no script, nothing loaded from elsewhere. */
import { pictureSvg } from '../geometry/picture.ts';
import { PAGE_POLICY } from './page-policy.ts';
import { airCurveDrawing } from './drawings/air-curve.ts';
import { lossBar } from './drawings/loss-bar.ts';
import { escapeText, withSubscripts } from './drawings/svg.ts';
import { trendDrawing } from './drawings/trend.ts';
import { verdictScale } from './drawings/verdict-scale.ts';
import { verdictSign } from './drawings/verdict-sign.ts';
import type { FigureText } from './card-format.ts';
import type { Block, CardRow, CardTable, Cell, PageOne, ReportModel, Section } from './report-model.ts';
import { reportStyle, type Paper, type ReportFonts } from './report-style.ts';
import { geometryReport, recordWords, reportWords } from '../words/report.ts';

export type HtmlOptions = { readonly paper: Paper; readonly fonts: ReportFonts };

export function reportHtml(model: ReportModel, { paper, fonts }: HtmlOptions): string {
  const style = reportStyle({ paper, fonts, tape: model.tape, foot: model.foot, page: { page: reportWords.page, of: reportWords.of } });
  const tape = model.tape === undefined ? '' : `<p class="tape" role="note">${t(model.tape)}</p>`;
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    PAGE_POLICY,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeText(model.documentTitle)}</title>`,
    `<style>${style}</style></head><body>`,
    tape,
    `<main>${firstPage(model.first)}`,
    `<section class="owner"><h1>${t(model.owner.title)}</h1>${model.owner.blocks.map((one) => block(one, 2)).join('')}</section>`,
    `<section class="record"><h1>${t(reportWords.recordTitle)}</h1>${model.record.map(section).join('')}</section></main>`,
    `<footer class="screen-foot"><span>${t(model.foot.cautions)}</span><span class="nw mono">${t(model.foot.run)}</span></footer>`,
    tape,
    '</body></html>',
  ].join('\n');
}

const t = withSubscripts;
const figure = ({ value, half }: FigureText): string => (half === undefined ? t(value) : `${t(value)} <i>${t(half)}</i>`);

function firstPage(page: PageOne): string {
  return [
    `<header class="head"><div><h1>${t(page.title)}</h1><p class="n2">${t(page.visitLine)}</p></div><p class="side">${page.side.map(t).join('<br>')}</p></header>`,
    `<section class="verdict">${verdictSign(page.verdict.shape, '', 40)}<div><h2>${t(page.verdict.headline)}</h2><p>${t(page.verdict.about)}</p></div></section>`,
    cardHtml(page.card, 3),
    '<div class="pair"><div>',
    `<h3>${t(reportWords.curveTitle)}</h3>`,
    page.curve === undefined ? `<p class="note">${t(reportWords.noCurve)}</p>` : airCurveDrawing(page.curve),
    page.curveNote === undefined ? '' : `<p class="note">${t(page.curveNote)}</p>`,
    `</div><div><h3>${t(reportWords.settingTitle)}</h3>`,
    page.setting.length === 0 ? `<p class="note">${t(reportWords.noSetting)}</p>` : settingTable(page.setting),
    page.geometry === undefined ? '' : `<p class="note">${t(geometryReport.onPage1(page.geometry))}</p>`,
    `<div class="saving"><h3>${t(reportWords.savingTitle)}</h3>${savingHtml(page.saving)}</div></div></div>`,
    `<section class="terms"><h3>${t(reportWords.termsTitle)}</h3>${termsHtml(page)}<p class="note">${t(page.termsNote)}</p></section>`,
    signatureHtml(page),
  ].join('');
}

const settingTable = (rows: PageOne['setting']): string =>
  `<table class="setting"><tbody>${rows.map(({ name, was, left }) => `<tr><th scope="row" class="b">${t(name)}</th><td class="n2 r">${t(was)}</td><td class="b r">${t(left)}</td></tr>`).join('')}</tbody></table>`;

const savingHtml = ({ figure: saved, text, more }: PageOne['saving']): string => {
  // the large figure begins the sentence; the sentence itself is whole for who hears it read out
  const rest = saved === undefined ? t(text) : t(text.slice(text.indexOf('%') + 1));
  const large = saved === undefined ? '' : `<b>${t([saved.value, saved.half].filter(Boolean).join(' '))}\u2009%</b>`;
  return `<p>${large}${rest}</p>${more === undefined ? '' : `<p>${t(more)}</p>`}`;
};

function termsHtml({ terms }: PageOne): string {
  if (terms === undefined) return '';
  const columns = terms.columns.map(({ label, value }) => `<li><b>${t(value)}</b><span>${t(label)}</span></li>`).join('');
  return `<ul>${columns}</ul>${lossBar(terms.bar, 680)}`;
}

const signatureHtml = ({ signature }: PageOne): string =>
  `<section class="sign"><div><div class="ln">${t(signature.technician)}</div>${t(reportWords.signTechnician)}</div><div><div class="ln">${t(signature.time)}</div>${t(reportWords.signDate)}</div><div><b>${t(signature.state)}</b>${signature.hash === undefined ? '' : `<br><span class="mono">${t(signature.hash)}</span>`}</div></section>`;

const section = ({ title, blocks }: Section): string =>
  `<section><h2>${t(title)}</h2>${blocks.map((one) => block(one, 3)).join('')}</section>`;

/** longer values want the whole width */
const LONG = 60;

function block(one: Block, level: 2 | 3): string {
  switch (one.kind) {
    case 'text':
      return `<p class="block${one.tone === undefined ? '' : ` ${one.tone}`}">${t(one.text)}</p>`;
    case 'heading':
      return `<h${level}>${t(one.text)}</h${level}>`;
    case 'list':
      return `<ul class="block list">${one.items.map((item) => `<li>${t(item)}</li>`).join('')}</ul>`;
    case 'facts':
      return `<dl class="block facts${one.facts.some(({ value }) => value.length > LONG) ? ' long' : ''}">${one.facts.map(({ label, value }) => `<div><dt>${t(label)}</dt><dd>${t(value)}</dd></div>`).join('')}</dl>`;
    case 'table':
      return tableHtml(one);
    case 'card':
      return `<div class="block">${cardHtml(one.card, level)}</div>`;
    case 'air-curve':
      return `<figure class="block">${airCurveDrawing(one.picture)}</figure>`;
    case 'geometry':
      return `<div class="geometry-views"><figure><figcaption class="n2">${t(one.sideLabel)}</figcaption>${pictureSvg(one.side, { label: one.sideLabel })}</figure><figure><figcaption class="n2">${t(one.frontLabel)}</figcaption>${pictureSvg(one.front, { label: one.frontLabel })}</figure></div>`;
    case 'trend':
      return `<figure class="block">${trendDrawing(one.picture)}</figure>`;
  }
}

function tableHtml({ columns, rows, dense }: Extract<Block, { kind: 'table' }>): string {
  const head = columns.map(({ label, figures }) => `<th scope="col"${figures === true ? ' class="r"' : ''}>${t(label)}</th>`).join('');
  const isHash = (index: number): boolean => columns[index]?.label === recordWords.columns.hash;
  const body = rows.map(
    (row) => `<tr>${row.map((cell, index) => cellHtml(cell, columns[index]?.figures === true, isHash(index))).join('')}</tr>`,
  );
  return `<table class="block${dense === true ? ' dense' : ''}"><thead><tr>${head}</tr></thead><tbody>${body.join('')}</tbody></table>`;
}

const LONGEST_WORD = 24;

function cellHtml(cell: Cell, figures: boolean, hash: boolean): string {
  const { text, half, strong } = typeof cell === 'string' ? { text: cell, half: undefined, strong: false } : cell;
  // only such a value may break anywhere: a cell that may has no width of its own, and its neighbours take all of it
  const isLong = text.split(/\s/).some((word) => word.length > LONGEST_WORD);
  const classes = [figures ? 'r' : '', strong === true ? 'b' : '', hash ? 'hash' : '', isLong ? 'long' : ''].filter(Boolean).join(' ');
  return `<td${classes === '' ? '' : ` class="${classes}"`}>${figure({ value: text, half })}</td>`;
}

const MANY_ROWS = 7;

function cardHtml({ title, rows, notes }: CardTable, level: 2 | 3): string {
  const judged = rows.some(({ limit }) => limit !== undefined);
  const { columns } = reportWords;
  const head = [
    `<th scope="col"></th><th scope="col" class="r">${columns.found}</th><th scope="col" class="r">${columns.left}</th>`,
    judged
      ? `<th scope="col" style="padding-left:14px">${columns.limit}</th><th style="width:98px"></th><th scope="col">${columns.verdict}</th>`
      : '',
  ].join('');
  const notesHtml = notes.map((note) => t(note)).join(' ');
  const table =
    rows.length === 0
      ? ''
      : `<table class="card${rows.length > MANY_ROWS ? ' tight' : ''}"><thead><tr>${head}</tr></thead><tbody>${rows.map((row) => cardRowHtml(row, judged)).join('')}</tbody></table>`;
  return `<h${level}>${t(title)}</h${level}>${table}<p class="note" style="margin-top:5px">${notesHtml}</p>`;
}

function cardRowHtml({ label, basis, unit, found, left, limit, verdict }: CardRow, judged: boolean): string {
  const value = (text: FigureText | undefined): string =>
    text === undefined ? `<span class="note">${t(reportWords.notTaken)}</span>` : figure(text);
  const cells = [
    `<th scope="row"><span class="nw"><span class="b" style="color:var(--ink);font-size:11pt">${t(label)}</span> ${t(unit)}</span><span class="basis">${t(basis)}</span></th>`,
    `<td class="v n2">${value(found)}</td><td class="v b">${value(left)}</td>`,
  ];
  if (judged)
    cells.push(
      `<td class="limit">${limit === undefined ? '' : `${t(limit.text)}<span>${t(limit.source)}</span>`}</td>`,
      `<td>${limit?.scale === undefined ? '' : verdictScale(limit.scale).replace('width="144" height="30"', 'width="96" height="20"')}</td>`,
      `<td class="verdict-cell">${verdict === undefined ? '' : `<div>${verdictSign(verdict.shape, '', 24)}<span>${t(verdict.word)}</span></div>`}</td>`,
    );
  return `<tr>${cells.join('')}</tr>`;
}
