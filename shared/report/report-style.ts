/** The report's style: one sheet for screen and paper. Light ground always; body 11 pt, notes 10 pt, foot 9 pt, rules instead of boxes. */
import { escapeText } from './drawings/svg.ts';

export type Paper = 'a4' | 'letter';
export type ReportFonts = {
  /** addresses that the page may load, usually `data:font/woff2;base64,...`; undefined: the system's own font */
  readonly sans: string | undefined;
  readonly mono: string | undefined;
};

const pageSizes: Readonly<Record<Paper, string>> = { a4: 'A4', letter: 'letter' };

/** Text for `content:` of a margin box. Backslash and quote would end the string, '<' the style element. */
const cssString = (text: string): string =>
  `"${text.replace(/[\\"<>\n\r\u0000-\u001f]/g, (sign) => `\\${sign.charCodeAt(0).toString(16)} `)}"`;

const face = (family: string, source: string | undefined): string =>
  source === undefined || !/^(data:font\/woff2;base64,[A-Za-z0-9+/=]+|[\w./-]+)$/.test(source)
    ? ''
    : `@font-face{font-family:"${family}";src:url("${escapeText(source)}") format("woff2");font-weight:200 800;font-display:block}`;

/** lines across the middle of the margin, as wide as the words leave room */
const tapeLines = 'repeating-linear-gradient(115deg,#1b1916 0 2px,transparent 2px 9px)';

const tapeBox = `content:" ";width:12%;background:${tapeLines} center/100% 4mm no-repeat`;

export type StyleParts = {
  readonly paper: Paper;
  readonly fonts: ReportFonts;
  readonly tape: string | undefined;
  readonly foot: { readonly cautions: string; readonly run: string };
  readonly page: { readonly page: string; readonly of: string };
};

/**
 * The record's `h2` may part from what follows: with `break-after: avoid` on them, Chromium 114 looks for page breaks for ever (two-column facts
 * and tables below; tried section by section in Electron 25). `h1` and `h3` keep theirs.
 */
export const reportStyle = ({ paper, fonts, tape, foot, page }: StyleParts): string => `
${face('Flueside Sans', fonts.sans)}${face('Flueside Mono', fonts.mono)}
:root{--paper:#fff;--ink:#1b1916;--ink-2:#4f4941;--ink-3:#665f55;--edge:#837b6f;--hairline:#d6d0c5;--accent:#0a6257;--accent-soft:#d2e9e3;--notice:#7a4d00;--alarm:#a81e12;--alarm-soft:#fbdcd6;--co:#9a4712;--o2:#1a5cab;--air:#6d665b}
@page{size:${pageSizes[paper]};margin:${tape === undefined ? '14mm' : '16mm'} 15mm 24mm;font-family:"Flueside Sans",system-ui,sans-serif;font-size:9pt;line-height:1.3;color:#4f4941;
@bottom-left{content:${cssString(foot.cautions)};width:146mm;vertical-align:top;text-align:left;border-top:1px solid #837b6f;padding-top:2mm;font-size:8.6pt}
@bottom-right{content:${cssString(page.page)} " " counter(page) " " ${cssString(page.of)} " " counter(pages)${foot.run === '' ? '' : ` "\\a " ${cssString(foot.run)}`};white-space:pre;vertical-align:top;text-align:right;border-top:1px solid #837b6f;padding-top:2mm;font-size:8.6pt}
${tape === undefined ? '' : `@top-left{${tapeBox}}@top-center{content:${cssString(tape)};font-size:10pt;font-weight:650;color:#1b1916;vertical-align:middle;text-align:center;padding:0 4mm}@top-right{${tapeBox}}`}
}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:11pt/1.35 "Flueside Sans",system-ui,sans-serif;font-feature-settings:"tnum","lnum";print-color-adjust:exact;-webkit-print-color-adjust:exact}
body{margin:0}
h1,h2,h3,p,ul,table,dl,figure{margin:0;padding:0}
h1{font-size:25pt;line-height:1.1;font-weight:650}h2{font-size:15pt;line-height:1.2;font-weight:650}h3{font-size:12.5pt;line-height:1.25;font-weight:650}
h1,h2,h3{break-after:avoid}
.note{color:var(--ink-2);font-size:9.6pt;line-height:1.28}.n2{color:var(--ink-2)}.b{font-weight:650}.r{text-align:right}.nw{white-space:nowrap}.mono{font-family:"Flueside Mono",ui-monospace,monospace}
sub{font-size:.72em;line-height:0}
table{border-collapse:collapse;width:100%}th{font-weight:400;color:var(--ink-2);font-size:10pt;text-align:left;vertical-align:bottom;padding:0 8px 3px 0}
td{border-top:1px solid var(--hairline);padding:3px 8px 3px 0;vertical-align:top}tr{break-inside:avoid}thead{display:table-header-group}
th.r{text-align:right}td:last-child,th:last-child{padding-right:0}td.r,td.nw{white-space:nowrap}i{font-style:normal;font-weight:400;font-size:.76em;color:var(--ink-2);white-space:nowrap}
svg{display:block;overflow:visible;break-inside:avoid;max-width:100%}svg text{font:10pt "Flueside Sans",system-ui,sans-serif;fill:var(--ink-2);font-feature-settings:"tnum","lnum"}svg text.b{font-weight:650}svg text.mark{font-size:8.5pt}svg text.halo{paint-order:stroke;stroke:var(--paper);stroke-width:3px}
svg path{fill:none}.gl{stroke:var(--hairline)}.ax{stroke:var(--edge)}.k-ink{stroke:var(--ink)}.k-2{stroke:var(--ink-2)}.k-3{stroke:var(--ink-3)}.k-edge{stroke:var(--edge)}.k-acc{stroke:var(--accent)}.k-not{stroke:var(--notice)}.k-al{stroke:var(--alarm)}.k-paper{stroke:var(--paper)}
.k-co{stroke:var(--co)}.k-o2{stroke:var(--o2)}.k-stack{stroke:var(--ink)}.k-air{stroke:var(--air)}
svg .f-ink{fill:var(--ink)}svg .f-3{fill:var(--ink-3)}svg .f-acc{fill:var(--accent)}svg .f-not{fill:var(--notice)}svg .f-al{fill:var(--alarm)}svg .f-soft{fill:var(--accent-soft)}svg .f-paper{fill:var(--paper)}svg .f-co{fill:var(--co)}
.head{display:flex;justify-content:space-between;align-items:flex-end;gap:24px;border-bottom:3px solid var(--ink);padding-bottom:10px}.head .side{text-align:right;font-size:10pt;color:var(--ink-2)}
.verdict{display:flex;gap:14px;align-items:center;padding:8px 0 9px}.verdict svg{flex:none}.verdict p{margin-top:3px}
.card th[scope=row]{vertical-align:middle;line-height:1.15;padding:2px 8px 2px 0;border-top:1px solid var(--hairline)}.card td{height:36px;vertical-align:middle;line-height:1.15;padding:2px 8px 2px 0}.card.tight td{height:28px}.card .v{font-size:13pt;white-space:nowrap;text-align:right}.card .v.n2{font-weight:400}.card .limit{padding-left:14px;font-size:10.5pt;max-width:55mm}.card svg{max-width:none}.card .limit span{display:block;font-size:7.5pt;color:var(--ink-2);white-space:nowrap;overflow:hidden;text-overflow:ellipsis}.card .basis{display:block;font-size:8.4pt;color:var(--ink-2)}.card .verdict-cell{font-size:10pt;white-space:nowrap}.card .verdict-cell div{display:flex;gap:5px;align-items:center}.card .verdict-cell span{font-weight:650}.card .verdict-cell small{display:block;font-size:8.5pt;color:var(--ink-2);white-space:normal;max-width:30mm}
.pair{display:flex;gap:26px;margin-top:10px;break-inside:avoid}.pair>div:first-child{flex:none;width:430px}.pair>div:last-child{flex:1}
.setting td,.setting th{padding:3px 8px 3px 0;border-top:1px solid var(--hairline);font-size:11pt;color:var(--ink)}.saving{margin-top:10px}.saving b{font-size:15pt}
.terms{margin-top:10px;break-inside:avoid}.terms ul{display:flex;list-style:none;margin:2px 0 5px}.terms li{border-left:1px solid var(--hairline);padding:1px 12px 1px 9px;line-height:1.2}.terms li:first-child{border:0;padding-left:0}.terms li b{display:block;font-size:13pt;font-weight:500}.terms li:first-child b,.terms li:last-child b{font-weight:650}.terms li span{font-size:9.5pt;color:var(--ink-2)}.terms p{margin-top:5px}
.sign{display:flex;gap:30px;align-items:flex-end;margin-top:15px;font-size:9.5pt;color:var(--ink-2);break-inside:avoid}.sign>div{flex:1}.sign>div:last-child{flex:none;max-width:56mm;text-align:right;color:var(--ink)}.sign .ln{border-bottom:1.5px solid var(--ink);min-height:21px;color:var(--ink);font-size:11pt}
.owner,.record{break-before:page}.owner h1,.record>h1{border-bottom:3px solid var(--ink);padding-bottom:8px;margin-bottom:10px}.owner{font-size:11.5pt;line-height:1.32}
.owner h2{margin-top:10px;margin-bottom:3px;font-size:14pt}.record h3{margin-top:13px;margin-bottom:4px}.record h2{break-after:auto;margin:20px 0 6px;padding-top:8px;border-top:1px solid var(--edge)}.record>section:first-of-type h2{border-top:0;padding-top:0;margin-top:10px}
.record table{font-size:10pt}.record .facts{columns:2;column-gap:8mm;font-size:10.5pt}.record .facts div{display:grid;grid-template-columns:38mm 1fr;gap:2px 8px;break-inside:avoid;padding:1.5px 0}.record .facts.long{columns:1}.record .facts.long div{grid-template-columns:58mm 1fr}.record dt{color:var(--ink-2)}dd{margin:0;overflow-wrap:anywhere}
.block{margin:5px 0}ul.list{padding-left:18px}ul.list li{margin:2px 0}.strong{font-weight:650}.alarm{border-left:6px solid var(--alarm);padding:4px 0 4px 10px;font-weight:650}
td.hash{font-family:"Flueside Mono",ui-monospace,monospace;font-size:7.6pt;overflow-wrap:anywhere}
.geometry-views{display:flex;gap:20px;align-items:flex-end;break-inside:avoid;margin:6px 0}.geometry-picture{overflow:hidden;max-width:100%}.g-ink,.g-second,.g-edge,.g-third,.g-hair,.g-ghost,.g-accent,.g-alarm{fill:none;stroke-linejoin:round}.g-ink{stroke:var(--ink)}.g-second,.g-edge,.g-third,.g-ghost{stroke:var(--ink-2)}.g-hair{stroke:var(--hairline)}.g-accent{stroke:var(--accent)}.g-alarm{stroke:var(--alarm)}.g-filled{fill:#fff}.g-dot{fill:var(--ink)}.g-dashed{stroke-dasharray:6 5}.g-axis{stroke-dasharray:14 4 3 4}.geometry-picture text{fill:var(--ink)}.geometry-picture text.g-text-strong{font-weight:680}
.tape,.screen-foot{display:none}
.r+td:not(.r),.r+th:not(.r){padding-left:16px}
.record td.long{overflow-wrap:anywhere}
.record table.dense,.record table.dense th{font-size:9pt}table.dense td,table.dense th{padding-right:9px}table.dense td.r{white-space:normal}table.dense td:first-child{white-space:nowrap}table.dense .r+td:not(.r),table.dense .r+th:not(.r){padding-left:8px}table.dense th{line-height:1.15}
td.hash{min-width:62mm}.record table td:has(+.hash){white-space:nowrap}
@media screen and (max-width:760px){.pair,.head,.sign,.terms ul,.screen-foot{flex-wrap:wrap}.pair>div:first-child{width:auto;flex:1 1 300px}.record .facts{columns:1}main{overflow-x:auto}.head .side{text-align:left}}
@media screen{body{max-width:190mm;margin:0 auto;padding:12mm 5mm}.owner,.record{margin-top:18mm}.tape{display:flex;align-items:center;gap:12px;font-weight:650;margin:0 0 12px}.tape::before,.tape::after{content:"";flex:1;height:14px;background:${tapeLines}}.screen-foot{display:flex;gap:24px;justify-content:space-between;border-top:1px solid var(--edge);margin-top:18px;padding-top:8px;font-size:9pt;color:var(--ink-2)}}
`;
