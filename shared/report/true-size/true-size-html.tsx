/** The two views at 1:1 on paper, with a bar that proves the printer's scale. Every length is in mm of paper. */
import { frontView, sideView, type View } from '../../geometry/drawing/drawing.ts';
import { isLength, itemNames, type GeometryItem } from '../../geometry/items.ts';
import type { GeometryVerdict } from '../../geometry/verdict.ts';
import { pictureOf, type PictureOptions } from '../../geometry/drawing/picture.ts';
import { drawnFigures, geometryNow, type GeometryNow } from '../../tuning/set-up/geometry-now.ts';
import { presentValue, type SetUpSheet } from '../../tuning/set-up/set-up-sheet.ts';
import { cardFigureWords, geometryNames, geometryVerdictWords, lengthWords } from '../../words/geometry/geometry.ts';
import { leadWords } from '../../words/geometry/lead.ts';
import { trueSizeWords as words } from '../../words/paper/geometry-sheet.ts';
import { Words } from '../drawings/Drawing.tsx';
import { GeometryPicture } from '../drawings/GeometryPicture.tsx';
import { VerdictSign, type SignName } from '../drawings/VerdictSign.tsx';
import { pageFile } from '../page/page-file.ts';
import { fontFaces, type Paper, type ReportFonts } from '../pages/report-style.ts';
import { PROOF_BAR_MM, PROOF_SHARE } from './true-size.ts';

export type TrueSize = {
  readonly sheet: SetUpSheet;
  readonly title: string;
  readonly about: string;
  readonly paper: Paper;
  readonly fonts: ReportFonts;
};

const INCH_MM = 25.4;
/** the marks are drawn in units of 1/96 in, as on a screen, and printed at their own size */
const PX_PER_MM = 96 / INCH_MM;

/** the page without its margins of 12 mm, less a hair that a printer may round up */
const heightMm: Readonly<Record<Paper, number>> = { a4: 272, letter: 254 };

const style = (paper: Paper, fonts: ReportFonts): string => `${fontFaces(fonts)}
@page{size:${paper === 'a4' ? 'A4' : 'letter'};margin:12mm 14mm}*{box-sizing:border-box;margin:0}body{font:9.5pt/1.3 "Flueside Sans",system-ui,sans-serif;font-feature-settings:"tnum","lnum";color:#111;background:#fff;width:182mm}main{display:flex;flex-direction:column;min-height:${heightMm[paper]}mm}h1{font-size:18pt;line-height:1.1}h2{font-size:12pt}.second{color:#444}header{display:flex;justify-content:space-between;align-items:flex-end;border-bottom:2.5px solid #111;padding-bottom:2mm}header p:last-child{text-align:right}sub{font-size:.72em;line-height:0}
section{padding:2mm 0;border-bottom:1px solid #666}section>p:first-of-type{margin-bottom:1.5mm}.proof{margin:1.5mm 0}svg{display:block;overflow:hidden;flex:none}.views{display:flex;gap:3mm}figure figcaption{color:#444;margin-bottom:1mm}.proof rect{fill:#111}.proof .frame{fill:none;stroke:#111;stroke-width:.3}.proof path{stroke:#111;stroke-width:.2}.proof text{font-size:3px;text-anchor:middle}.proof .unit{text-anchor:start}
.g-ink,.g-second,.g-edge,.g-third,.g-hair,.g-accent{fill:none;stroke:#111;stroke-linejoin:round}.g-edge,.g-third{stroke:#666}.g-hair{stroke:#aaa}.g-accent{stroke:#0a6257;stroke-width:1.2}.g-filled{fill:#fff}.g-dot{fill:#111}.g-dashed{stroke-dasharray:6 5}.g-axis{stroke-dasharray:14 4 3 4}.geometry-picture text{fill:#111}
.told{display:flex;gap:6mm;padding-top:2mm}.told table{flex:1 1 auto}.told>div{flex:0 0 34mm;font-size:8.5pt}.told p{margin-top:1mm}table{border-collapse:collapse}th,td{text-align:left;padding:.8mm 3mm .8mm 0;border-bottom:1px solid #bbb;font-weight:400;vertical-align:top}thead th{color:#444}.figure{text-align:right;white-space:nowrap}tbody th,.told td b{font-weight:700}tbody th{white-space:nowrap}.told td:last-child{padding-right:0}.verdict{display:flex;gap:2mm}.verdict svg{margin-top:.4mm}
.stroke-accent,.stroke-alarm,.stroke-third{fill:none}.stroke-accent{stroke:#0a6257}.fill-accent{fill:#0a6257}.stroke-alarm{stroke:#a81e12}.stroke-third{stroke:#666}footer{display:flex;justify-content:space-between;gap:10mm;border-top:1px solid #666;margin-top:auto;padding-top:1mm;font-size:8pt}footer p:last-child{white-space:nowrap}
`;

/** One page. */
export const trueSizeHtml = ({ paper, fonts, ...content }: TrueSize): string =>
  pageFile({ title: words.title, style: style(paper, fonts), body: <TrueSizePage {...content} /> });

function TrueSizePage({ sheet, title, about }: Omit<TrueSize, 'paper' | 'fonts'>) {
  const now = geometryNow(sheet);
  const figures = drawnFigures(now, presentValue(sheet, 'nozzleAngleDeg'));
  const card =
    now.card === undefined ? leadWords.noCard : [now.card.name, now.card.source.edition, now.card.source.page].filter(Boolean).join(', ');
  const [least, most] = [PROOF_BAR_MM * (1 - PROOF_SHARE), PROOF_BAR_MM * (1 + PROOF_SHARE)];
  return (
    <main>
      <header>
        <div>
          <h1>{words.title}</h1>
          <p>{about}</p>
        </div>
        <p>
          {title}
          <br />
          {card}
        </p>
      </header>
      <section>
        <h2>{words.prove}</h2>
        <p className="second">{words.proveAbout}</p>
        <ProofBar />
        <p>{words.proveLine(least.toFixed(1), most.toFixed(1))}</p>
      </section>
      <section>
        <h2>{words.hold}</h2>
        <div className="views">
          <Drawn view={sideView(figures)} label={leadWords.side} now={now} />
          <Drawn view={frontView(figures)} label={words.front} now={now} />
        </div>
      </section>
      <div className="told">
        <Measured now={now} />
        <div>
          <h2>{words.read}</h2>
          {words.readAbout.map((text) => (
            <p key={text}>{text}</p>
          ))}
        </div>
      </div>
      <footer>
        <p>
          <Words text={words.foot} />
        </p>
        <p>{words.sheet}</p>
      </footer>
    </main>
  );
}

function Drawn({ view, label, now }: { view: View; label: string; now: GeometryNow }) {
  const figure: PictureOptions['figure'] = ({ axis, from, to }) =>
    lengthWords(Math.abs(axis === 'x' ? to[0] - from[0] : to[1] - from[1]), now.unit).replace(/\u2009?(mm|in)$/, '');
  const picture = pictureOf(view, { size: PX_PER_MM, figure, cardWord: leadWords.card, text: { plain: 12, strong: 14 } });
  return (
    <figure>
      <figcaption>{label}</figcaption>
      <GeometryPicture picture={picture} label={label} unitMm={1 / PX_PER_MM} />
    </figure>
  );
}

/** Blocks of an inch, eighths above and millimetres below. */
function ProofBar() {
  const ticks = (count: number): number[] => Array.from({ length: count }, (_, at) => at);
  return (
    <svg className="proof" width="172.4mm" height="18mm" viewBox="-15 0 172.4 18" role="img" aria-label={words.bar}>
      <text className="unit" x="-15" y="2.6">
        {words.inches}
      </text>
      <text className="unit" x="-15" y="16.4">
        {words.mm}
      </text>
      {[0, 2, 4].map((at) => (
        <rect key={at} x={at * INCH_MM} y="6" width={INCH_MM} height="4" />
      ))}
      <rect className="frame" x="0" y="6" width={PROOF_BAR_MM} height="4" />
      {ticks(49).map((eighth) => (
        <Tick key={eighth} x={(eighth * INCH_MM) / 8} from={6} by={eighth % 8 === 0 ? -3 : -1.5} />
      ))}
      {ticks(153).map((mm) => (
        <Tick key={mm} x={mm} from={10} by={mm % 10 === 0 ? 3 : 1.5} />
      ))}
      {ticks(7).map((inch) => (
        <text key={inch} x={inch * INCH_MM} y="2.6">
          {inch}
        </text>
      ))}
      {ticks(16).map((cm) => (
        <text key={cm} x={cm * 10} y="16.4">
          {cm * 10}
        </text>
      ))}
    </svg>
  );
}
const Tick = ({ x, from, by }: { x: number; from: number; by: number }) => <path d={`M${x} ${from}v${by}`} />;

const isFigure = (column: string): boolean => column === words.columns[1] || column === words.columns[2];
const signOf = ({ verdict }: GeometryVerdict): SignName => (verdict === 'pass' || verdict === 'fail' ? verdict : 'not-known');

function Measured({ now }: { now: GeometryNow }) {
  const wanted = (item: GeometryItem): string => {
    const one = now.items[item];
    return one.found.state === 'given'
      ? cardFigureWords(item, one.found.figure, one.isOfCard ? (now.card?.lengthUnit ?? now.unit) : now.unit)
      : '';
  };
  const rows = itemNames.filter((item) => isLength(item) && now.items[item].nowTyped !== undefined);
  if (rows.length === 0) return null;
  return (
    <table>
      <thead>
        <tr>
          {words.columns.map((column) => (
            <th key={column} scope="col" className={isFigure(column) ? 'figure' : undefined}>
              {column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((item) => (
          <tr key={item}>
            <th scope="row">{geometryNames[item]}</th>
            <td className="figure">{now.items[item].nowTyped}</td>
            <td className="figure">{wanted(item)}</td>
            <td>
              <div className="verdict">
                <VerdictSign verdict={signOf(now.items[item].now)} size={14} />
                <b>{geometryVerdictWords(item, now.items[item].now, now.unit)}</b>
              </div>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
