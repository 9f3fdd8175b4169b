/** The report's style: one sheet for screen and paper. Light ground always; body 11 pt, notes 10 pt, foot 9 pt, rules instead of boxes. */

export type Paper = 'a4' | 'letter';
export type ReportFonts = {
  /** addresses that the page may load, usually `data:font/woff2;base64,...`; undefined: the system's own font */
  readonly sans: string | undefined;
  readonly mono: string | undefined;
  /** headings and what stands out; without it the browser thickens `sans` */
  readonly bold?: string | undefined;
  /** further Latin letters (ł, ő, ế) of both; only a page that has such letters carries them */
  readonly sansMore?: string | undefined;
  readonly boldMore?: string | undefined;
};

const pageSizes = {
  a4: { name: 'A4', width: '210mm', height: '297mm' },
  letter: { name: 'letter', width: '8.5in', height: '11in' },
} as const satisfies Record<Paper, object>;

/** Head, sides and foot of every page; what is set stays between them. */
export const pageMargins = { top: 13, side: 15, foot: 22 } as const;

/** Text for `content:` of a margin box. Backslash and quote would end the string, '<' the style element. */
const cssString = (text: string): string =>
  `"${text.replace(/[\\"<>\n\r\u0000-\u001f]/g, (sign) => `\\${sign.charCodeAt(0).toString(16)} `)}"`;

const face = (family: string, source: string | undefined, weight = '400', range = ''): string =>
  source === undefined || !/^(data:font\/woff2;base64,[A-Za-z0-9+/=]+|[\w./-]+)$/.test(source)
    ? ''
    : `@font-face{font-family:"${family}";src:url("${source}") format("woff2");font-weight:${weight};font-display:block${range}}`;

/** For letters of its range a browser takes the last face of a family first. */
const MORE_LATIN = ';unicode-range:U+0100-024F,U+1E00-1EFF';
export const fontFaces = ({ sans, bold, mono, sansMore, boldMore }: ReportFonts): string =>
  [
    face('Flueside Sans', sans),
    face('Flueside Sans', bold, '700'),
    face('Flueside Sans', sansMore, '400', MORE_LATIN),
    face('Flueside Sans', boldMore, '700', MORE_LATIN),
    face('Flueside Mono', mono),
  ].join('');

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

const tokens = `:root{--ground:#fff;--ink:#1b1916;--ink-2:#4f4941;--ink-3:#665f55;--edge:#837b6f;--hairline:#d6d0c5;--accent:#0a6257;--accent-soft:#d2e9e3;--notice:#7a4d00;--alarm:#a81e12;--alarm-soft:#fbdcd6;--co:#9a4712;--o2:#1a5cab;--air:#6d665b}`;

/** The drawings' inks: the same classes as in the window. */
const inks = `svg{display:block;overflow:hidden;break-inside:avoid;max-width:100%}svg path{fill:none}
svg text{font:10pt "Flueside Sans",system-ui,sans-serif;fill:var(--ink-2);font-feature-settings:"tnum","lnum"}svg text.strong{font-weight:700}svg text.mark{font-size:8.5pt}svg text.halo{paint-order:stroke;stroke:var(--ground);stroke-width:3px}
${['ink', 'ink-2 second', 'ink-3 third', 'edge', 'accent', 'notice', 'alarm', 'ground', 'co', 'o2', 'air', 'ink stack']
  .map((pair) => {
    const [token = '', name = token] = pair.split(' ');
    return `.stroke-${name}{stroke:var(--${token});fill:none}svg .fill-${name}{fill:var(--${token})}`;
  })
  .join('')}svg .fill-accent-soft{fill:var(--accent-soft)}.boxed{stroke:var(--ink)}.grid{stroke:var(--hairline)}.axis{stroke:var(--edge)}`;

/** between two pages on screen */
const SCREEN_GAP = '6mm';

/**
 * The same pages on screen: what breaks columns in a browser is what breaks pages, so a column as high as the page's text holds what the page
 * holds. Letters are as wide as on paper, not rounded to whole pixels. A browser that cannot wrap columns shows one long sheet.
 */
const screenStyle = ({ width, height, above, below }: { width: string; height: string; above: number; below: number }): string =>
  `@media screen{html{background:#d9d4ca;text-rendering:geometricPrecision}body{padding:${SCREEN_GAP} 0}main{width:max-content;min-width:100%}
.sheet{position:relative;width:${width};min-height:${height};padding:${above}mm ${pageMargins.side}mm ${below}mm;margin:0 auto ${SCREEN_GAP};background:var(--ground)}.sheet+.sheet{break-before:auto}
.again{display:table-row;break-after:avoid}.page-edges{position:absolute;inset:0;padding:0 ${pageMargins.side}mm;display:flex;flex-direction:column}.tape{height:${above}mm;display:flex;align-items:center;gap:12px;font-size:10pt;font-weight:700}.tape::before,.tape::after{content:"";flex:1;height:4mm;background:${tapeLines}}
.screen-foot{display:flex;gap:24px;justify-content:space-between;margin-top:auto;height:${below}mm;font-size:8.6pt;line-height:1.3;color:var(--ink-2)}.screen-foot>span{border-top:1px solid var(--edge);padding-top:2mm;height:max-content}.screen-foot>span:first-child{flex:1}.screen-foot>span>span{display:block}
@supports(column-wrap:wrap){.flow{width:round(up,${width} - ${2 * pageMargins.side}mm,1px);column-count:1;column-fill:auto;column-height:round(up,${height} - ${above + below}mm,1px);column-wrap:wrap;row-gap:calc(${above + below}mm + ${SCREEN_GAP})}.sheet{background:repeating-linear-gradient(var(--ground) 0 ${height},transparent ${height} calc(${height} + ${SCREEN_GAP}))}}}`;

const base = `*{box-sizing:border-box}
html{background:var(--ground);color:var(--ink);font:11pt/1.35 "Flueside Sans",system-ui,sans-serif;font-feature-settings:"tnum","lnum";print-color-adjust:exact;-webkit-print-color-adjust:exact}
body{margin:0;overflow-wrap:anywhere}
h1,h2,h3,p,ul,table,dl,dd,figure{margin:0;padding:0}
sub{font-size:.72em;line-height:0}.figure,.formula,.nw{white-space:nowrap}.mono{font-family:"Flueside Mono",ui-monospace,monospace}`;

/**
 * With `break-after: avoid` on the record's `h2`, Chromium 114 looks for page breaks for ever (two-column facts and tables below; tried section by
 * section in Electron 25). They ask for the height of their first rows instead, so that none is alone at the foot of a page. `h1` and `h3` keep theirs. Every table has fixed columns: what is one thing
 * (a figure and its ±, a date, a time) never wraps, and words wrap inside their own column.
 */
export const reportStyle = ({ paper, fonts, tape, foot, page }: StyleParts): string => {
  const { name, width, height } = pageSizes[paper];
  const { top, side, foot: below } = pageMargins;
  const above = tape === undefined ? top : top + 3;
  return `
${fontFaces(fonts)}
${tokens}
@page{size:${name};margin:${above}mm ${side}mm ${below}mm;font-family:"Flueside Sans",system-ui,sans-serif;font-size:9pt;line-height:1.3;color:#4f4941;
@bottom-left{content:${cssString(foot.cautions)};width:146mm;vertical-align:top;text-align:left;border-top:1px solid #837b6f;padding-top:2mm;font-size:8.6pt}
@bottom-right{content:${cssString(page.page)} " " counter(page) " " ${cssString(page.of)} " " counter(pages)${foot.run === '' ? '' : ` "\\a " ${cssString(foot.run)}`};white-space:pre;vertical-align:top;text-align:right;border-top:1px solid #837b6f;padding-top:2mm;font-size:8.6pt}
${tape === undefined ? '' : `@top-left{${tapeBox}}@top-center{content:${cssString(tape)};font-size:10pt;font-weight:700;color:#1b1916;vertical-align:middle;text-align:center;padding:0 4mm}@top-right{${tapeBox}}`}
}
${base}
h1{font-size:25pt;line-height:1.1;font-weight:700}h2{font-size:15pt;line-height:1.2;font-weight:700}h3{font-size:12.5pt;line-height:1.25;font-weight:700}
h1,h2,h3{break-after:avoid}b,.b{font-weight:700}
.note{color:var(--ink-2);font-size:9.6pt;line-height:1.28}.n2{color:var(--ink-2)}.r{text-align:right}
table{border-collapse:collapse;width:100%;table-layout:fixed}th{font-weight:400;color:var(--ink-2);font-size:10pt;text-align:left;vertical-align:bottom;padding:0 8px 3px 0;line-height:1.15}
td{border-top:1px solid var(--hairline);padding:3px 8px 3px 0;vertical-align:top}thead td{border:0}tr{break-inside:avoid}thead{display:table-header-group}
th.r{text-align:right}td:last-child,th:last-child{padding-right:0}i{font-style:normal;font-weight:400;font-size:.76em;color:var(--ink-2)}
.r+td:not(.r),.r+th:not(.r){padding-left:10px}
${inks}
.head{display:flex;justify-content:space-between;align-items:flex-end;gap:24px;border-bottom:3px solid var(--ink);padding-bottom:8px}.head>div:first-child{flex:none;max-width:60%}.missing-letters{width:0;min-width:100%;font-size:8.6pt;line-height:1.2}.head .side{text-align:right;font-size:10pt;line-height:1.3;color:var(--ink-2)}
.verdict{display:flex;gap:14px;align-items:center;padding:8px 0 7px;line-height:1.3}.verdict svg{flex:none}.verdict>div{min-width:0}.verdict p{margin-top:2px}.verdict.alarm{border-left:8px solid var(--alarm);background:var(--alarm-soft);padding:10px 14px;margin:10px 0}.verdict.alarm .stroke-ground{stroke:var(--alarm-soft)}.verdict.alarm h2{font-size:17pt}
.card th[scope=row]{vertical-align:middle;line-height:1.15;padding:2px 6px 2px 0;border-top:1px solid var(--hairline)}.card th b{display:block;color:var(--ink);font-size:11pt}.card td{height:35px;vertical-align:middle;line-height:1.15;padding:2px 6px 2px 0}.card thead td{height:auto}.card.tight tbody td{height:27px}.card .v{font-size:13pt;text-align:right}.card .v.n2{font-weight:400}.card .limit{padding-left:10px}.card td.limit{font-size:10.5pt}.card .limit small{display:block;font-size:7.5pt;line-height:1.1;color:var(--ink-2)}.card .basis{display:block;font-size:8.4pt}.card .verdict-cell{font-size:10pt}.card .verdict-cell div{display:flex;gap:5px;align-items:center;line-height:1.1}.card .verdict-cell svg{flex:none}.card+.note{margin-top:5px}
.pair svg{margin-bottom:3px}.pair{display:flex;gap:22px;margin-top:8px;break-inside:avoid}.pair>div:first-child{flex:none;width:424px}.pair>div:last-child{flex:1;min-width:0}
.known{font-size:11pt}.known td,.known tbody th{vertical-align:middle;padding:3px 8px 3px 0;height:34px;line-height:1.2}.known thead td{height:auto;padding:0}.known tbody th{border-top:1px solid var(--hairline);font-size:11pt;color:var(--ink)}.known .v{font-weight:700;font-size:12.5pt}.known .v+td{padding-left:18px;font-size:10.5pt}.known svg{display:block}h3+.known{margin-top:-15px}
.left{display:flex;list-style:none;margin:4px 0 10px}.left li{flex:1;min-width:0;border-left:1px solid var(--hairline);padding:0 14px}.left li:first-child{border:0;padding-left:0}.left b{display:flex;gap:8px;align-items:center;font-size:12.5pt}.left span{display:block;font-size:10.5pt;line-height:1.3}.before{margin:4px 0 10px;padding-left:22px}.before li{padding:1.5px 0}.known+h3{margin-top:12px}
.setting td,.setting th{padding:3px 4px 3px 0;border-top:1px solid var(--hairline);font-size:11pt;color:var(--ink);vertical-align:top}.saving{margin-top:8px}.saving b{font-size:15pt}
.terms{margin-top:8px;break-inside:avoid}.terms ul{display:flex;list-style:none;margin:2px 0 5px}.terms li{border-left:1px solid var(--hairline);padding:1px 10px 1px 8px;line-height:1.2;white-space:nowrap}.terms li:first-child{border:0;padding-left:0}.terms li:last-child{padding-right:0}.terms li b{display:block;font-size:13pt;font-weight:400}.terms li:first-child b,.terms li:last-child b{font-weight:700}.terms li span{font-size:9.5pt;color:var(--ink-2)}.terms p{margin-top:4px}.terms>svg{width:100%;height:auto}
.sign{display:flex;gap:30px;align-items:flex-end;margin-top:12px;font-size:9.5pt;line-height:1.25;color:var(--ink-2);break-inside:avoid}.sign>div{flex:1;min-width:0}.sign>div:last-child{flex:none;max-width:56mm;text-align:right;color:var(--ink)}.sign .ln{border-bottom:1.5px solid var(--ink);min-height:20px;color:var(--ink);font-size:11pt}
.sheet+.sheet{break-before:page}.record .head h1{border:0;padding:0;margin:0}.record h1{border-bottom:3px solid var(--ink);padding-bottom:8px;margin-bottom:10px}.record h1{font-size:18pt;padding-bottom:4px;margin-bottom:6px}.owner{font-size:11pt;line-height:1.3}.owner .verdict h2{margin:0;font-size:17pt}.owner .verdict:not(.alarm){padding:10px 0 8px}.owner td{padding:5px 10px 5px 0;vertical-align:middle}.owner td:first-child{font-weight:700}.owner td.r{font-size:13pt}.owner td.r i{font-size:.72em}.owner td:last-child{font-size:10.5pt}.owner .halves{margin-top:10px;gap:28px}.owner .halves+.halves{border-top:3px solid var(--ink);margin-top:14px;padding-top:2px}.owner .halves h2{font-size:12.5pt}.signs{list-style:none}.signs li{display:flex;gap:10px;align-items:flex-start;border-top:1px solid var(--hairline);padding:5.5px 0}.signs svg{flex:none;margin-top:1px}p.big{font-size:17pt;font-weight:700;line-height:1.2}
.owner h2{margin-top:10px;margin-bottom:3px;font-size:14pt}.record h3{margin-top:3px;margin-bottom:2px;font-size:11pt}.record h2{break-after:auto;break-inside:avoid;font-size:12pt;margin:6px 0 2px;padding-top:3px;border-top:1px solid var(--edge)}.record h2::after{content:"";display:block;height:13mm;margin-bottom:-13mm}.record .flow>h1+section h2{border-top:0;padding-top:0;margin-top:6px}
.record table{font-size:10pt;line-height:1.2}.record td{padding-top:1.5px;padding-bottom:1.5px}.facts{font-size:10pt;line-height:1.25}.facts:not(.long){columns:2;column-gap:8mm}.facts div{display:grid;grid-template-columns:44mm minmax(0,1fr);gap:2px 8px;break-inside:avoid;padding:1px 0}.facts.long div{grid-template-columns:44mm minmax(0,1fr)}.facts dt{color:var(--ink-2)}
.held{break-inside:avoid}.block{margin:4px 0}ul.list{padding-left:18px}ul.list li{margin:1px 0}.record .list,.record p.block{font-size:10pt;line-height:1.22}.record .block{margin:1px 0}.record p.note{font-size:9pt;line-height:1.25}.strong{font-weight:700}p.block.alarm{border-left:6px solid var(--alarm);padding:4px 0 4px 10px;font-weight:700}
.record p.hash{break-inside:avoid;font-family:"Flueside Mono",ui-monospace,monospace;font-size:7.6pt;line-height:1.4;color:var(--ink-2)}
.record p.hash .note{display:block;font:9pt/1.25 "Flueside Sans",system-ui,sans-serif}.annex p.block,.annex .list{font-size:9.6pt;line-height:1.25}.annex ul.list{list-style:none;padding:0}
.record table.dense,.record table.dense th{font-size:9pt}table.dense td,table.dense th{padding-right:5px;line-height:1.15}table.dense .r+td:not(.r),table.dense .r+th:not(.r){padding-left:6px}
.photos{display:flex;flex-wrap:wrap;gap:8px 20px;margin:2px 0}.photos figure{width:84mm;break-inside:avoid}.photos img{display:block;max-width:84mm;max-height:64mm}.photos figcaption{font-size:9pt;line-height:1.25;overflow-wrap:anywhere}.geometry-views{display:flex;gap:20px;align-items:flex-end;break-inside:avoid;margin:2px 0}.geometry-picture{overflow:hidden;max-width:100%}.g-ink,.g-second,.g-edge,.g-third,.g-hair,.g-ghost,.g-accent,.g-alarm{fill:none;stroke-linejoin:round}.g-ink{stroke:var(--ink)}.g-second,.g-edge,.g-third,.g-ghost{stroke:var(--ink-2)}.g-hair{stroke:var(--hairline)}.g-accent{stroke:var(--accent)}.g-alarm{stroke:var(--alarm)}.g-filled{fill:#fff}.g-dot{fill:var(--ink)}.g-dashed{stroke-dasharray:6 5}.g-axis{stroke-dasharray:14 4 3 4}.geometry-picture text{fill:var(--ink);paint-order:stroke;stroke:var(--ground);stroke-width:3px}.geometry-picture text.g-text-strong{font-weight:680}
.halves{display:flex;gap:20px}.halves>table,.halves>div{flex:1;min-width:0;margin:0}
.page-edges,.again{display:none}
${screenStyle({ width, height, above, below })}
`;
};

/** The card at the burner: 90 x 130 mm, with a hole for its string. */
export const labelStyle = (fonts: ReportFonts): string => `
${fontFaces(fonts)}
${tokens}
@page{size:90mm 130mm;margin:0}
${base}
h1,b{font-weight:700}
${inks}
html{font-size:9pt;line-height:1.25}
.label{width:90mm;height:130mm;padding:6mm 6.5mm 5mm;display:flex;flex-direction:column;border:.3mm solid var(--ink);overflow:hidden}
.hole{flex:none;width:8mm;height:3mm;border:.25mm dashed var(--ink-2);border-radius:1.5mm;margin:0 auto 2.5mm}
.label header{display:flex;justify-content:space-between;align-items:flex-end;gap:4mm;border-bottom:.7mm solid var(--ink);padding-bottom:1.6mm}.label header>div{min-width:0}.label h1{font-size:17pt;line-height:1.1}.label header p{color:var(--ink-2);font-size:8.6pt;line-height:1.2;display:-webkit-box;-webkit-box-orient:vertical;-webkit-line-clamp:2;overflow:hidden}.label header>b{flex:none;width:15mm;text-align:right;font-size:10.5pt;line-height:1.2}
.warning{display:flex;gap:2mm;align-items:center;border:.5mm solid var(--alarm);padding:1mm 2mm;margin-top:1.5mm;font-size:10pt;line-height:1.15}.warning svg{flex:none}
.label dl{flex:1;min-height:0;display:flex;flex-direction:column;margin-bottom:2mm}.label dl div{flex:0 1 7.4mm;display:flex;justify-content:space-between;align-items:center;gap:3mm;border-bottom:.2mm solid var(--edge)}.label dl div:last-child{border:0}.label dt{color:var(--ink-2);font-size:9.2pt;min-width:0}.label dd{font-size:8.2pt;color:var(--ink-2)}.label dd b{font-size:11.5pt;color:var(--ink)}.label dl.many dd b{font-size:10.8pt}.label .missing-letters{color:var(--ink)}
.label section{border-top:.7mm solid var(--ink);padding-top:1.4mm;color:var(--ink-2)}.label .due{color:var(--ink);font-size:15pt;line-height:1.15}
.label footer{display:flex;justify-content:space-between;gap:4mm;margin-top:2mm;font-size:7.6pt;line-height:1.3;color:var(--ink-2)}.label footer>div:last-child{flex:none;text-align:right}.label footer>div:first-child{min-width:0}
@media screen{html{background:#d9d4ca}.label{margin:6mm auto;background:var(--ground)}}
`;
