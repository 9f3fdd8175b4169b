/** Pages of the host as sheets of paper on screen. Nothing here touches what is printed. */
import { reportWords } from '../../../shared/words/paper/page-one.ts';

/** room beside the sheet, px */
const BESIDE = 24;

/** Tape, foot and number on every page that the browser has broken a sheet into. Done once, before the sheets are fitted. */
export function numberPages(page: Document): void {
  for (const sheet of page.querySelectorAll<HTMLElement>('.sheet')) edgesOf(sheet);
  const all = [...page.querySelectorAll<HTMLElement>('.page-number')];
  all.forEach((number, index) => {
    number.textContent = `${reportWords.page} ${index + 1} ${reportWords.of} ${all.length}`;
  });
}

function edgesOf(sheet: HTMLElement): void {
  const flow = sheet.querySelector<HTMLElement>('.flow');
  const edges = sheet.querySelector<HTMLElement>('.page-edges');
  const style = flow?.ownerDocument.defaultView?.getComputedStyle(flow);
  const text = parseFloat(style?.getPropertyValue('column-height') ?? '');
  const step = text + parseFloat(style?.rowGap ?? '');
  // a browser that does not break columns into rows shows one long sheet
  if (flow === null || edges === null || !(step > 0)) return;
  for (const table of flow.querySelectorAll('table')) repeatHead(table, flow, step);
  const pages = Math.max(1, Math.round((flow.offsetHeight + step - text) / step));
  const height = sheet.offsetHeight - (pages - 1) * step;
  for (let extra = 1; extra < pages; extra += 1) edges.after(edges.cloneNode(true));
  sheet.querySelectorAll<HTMLElement>('.page-edges').forEach((own, index) => {
    own.style.inset = `${index * step}px 0 auto`;
    own.style.height = `${height}px`;
  });
}

/** On paper the browser itself sets a table's head again on the next page; in columns it does not. */
function repeatHead(table: HTMLTableElement, flow: HTMLElement, step: number): void {
  const head = [...(table.tHead?.rows ?? [])];
  const [first] = head;
  if (first === undefined) return;
  const pageOf = (row: HTMLElement): number => Math.floor((row.getBoundingClientRect().top - flow.getBoundingClientRect().top) / step);
  let at = pageOf(first);
  for (const row of [...table.tBodies].flatMap((body) => [...body.rows])) {
    if (pageOf(row) > at)
      for (const one of head) {
        row.before(one.cloneNode(true));
        row.previousElementSibling?.setAttribute('class', 'again');
        row.previousElementSibling?.setAttribute('aria-hidden', 'true');
      }
    at = pageOf(row);
  }
}

/** The sheets as wide as there is room for: drawn smaller, not set smaller, or a line would break elsewhere than on paper. */
export function fitSheets(page: Document, room: number): void {
  const [main] = page.getElementsByTagName('main');
  const sheet = page.querySelector<HTMLElement>('.sheet,.label');
  if (main === undefined || sheet === null) return;
  const style = page.querySelector('style[data-fit]') ?? page.head.appendChild(page.createElement('style'));
  style.setAttribute('data-fit', '');
  style.textContent = '';
  const scale = (room - BESIDE) / sheet.offsetWidth;
  if (scale >= 1 || scale <= 0) return;
  const less = Math.round((1 - scale) * main.offsetHeight);
  style.textContent = `@media screen{main{min-width:0;transform:translateX(${BESIDE / 2}px) scale(${scale.toFixed(4)});transform-origin:0 0;margin-bottom:-${less}px}}`;
}
