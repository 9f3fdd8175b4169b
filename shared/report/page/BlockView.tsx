import { Fragment } from 'react';
import { AirCurveDrawing } from '../drawings/AirCurveDrawing.tsx';
import { Words } from '../drawings/Drawing.tsx';
import { GeometryPicture } from '../drawings/GeometryPicture.tsx';
import { TrendDrawing } from '../drawings/TrendDrawing.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';
import type { Block, Cell, Column, Fact } from '../report-model.ts';
import { CardTableView } from './CardTableView.tsx';
import { FigureWords } from './FigureWords.tsx';

/** One building block of the pages after the first. */
export function BlockView({ block, level }: { block: Block; level: 2 | 3 }) {
  switch (block.kind) {
    case 'text':
      return (
        <p className={`block${block.tone === undefined ? '' : ` ${block.tone}`}`}>
          <Words text={block.text} />
        </p>
      );
    case 'hash':
      return (
        <p className="block hash">
          <span className="note">
            <Words text={block.label} />
          </span>
          {block.text}
        </p>
      );
    case 'heading': {
      const Heading = `h${level}` as const;
      return (
        <Heading>
          <Words text={block.text} />
        </Heading>
      );
    }
    case 'list':
      return (
        <ul className="block list">
          {block.items.map((item, index) => (
            <li key={index}>
              <Words text={item} />
            </li>
          ))}
        </ul>
      );
    case 'verdict':
      return (
        <section className={`verdict ${block.shape}`}>
          <VerdictSign verdict={block.shape} size={40} />
          <div>
            <h2>
              <Words text={block.headline} />
            </h2>
            {block.about.map((line, index) => (
              <p key={index}>
                <Words text={line} />
              </p>
            ))}
          </div>
        </section>
      );
    case 'signs':
      return (
        <ul className="block signs">
          {block.items.map((item, index) => (
            <li key={index}>
              <VerdictSign verdict={block.sign === 'done' ? 'pass' : 'notice'} size={18} />
              <span>
                <Words text={item} />
              </span>
            </li>
          ))}
        </ul>
      );
    case 'facts':
      return <Facts facts={block.facts} />;
    case 'table':
      return block.halves === true ? <Halves table={block} /> : <TableView table={block} />;
    case 'columns':
      return (
        <div className="block halves">
          {block.columns.map((blocks, at) => (
            <div key={at}>
              {blocks.map((one, index) => (
                <BlockView key={index} block={one} level={level} />
              ))}
            </div>
          ))}
        </div>
      );
    case 'card':
      return (
        <div className="block">
          <CardTableView card={block.card} level={level} />
        </div>
      );
    case 'air-curve':
      return (
        <figure className="block">
          <AirCurveDrawing picture={block.picture} place="paper" />
        </figure>
      );
    case 'geometry':
      return (
        <div className="geometry-views">
          {(['side', 'front'] as const).map((view) => (
            <figure key={view}>
              <figcaption className="n2">
                <Words text={block[`${view}Label`]} />
              </figcaption>
              <GeometryPicture picture={block[view]} label={block[`${view}Label`]} />
            </figure>
          ))}
        </div>
      );
    case 'photos':
      return (
        <div className="photos">
          {block.photos.map(({ url, caption }) => (
            <figure key={caption}>
              <img src={url} alt={caption} />
              <figcaption className="n2">
                <Words text={caption} />
              </figcaption>
            </figure>
          ))}
        </div>
      );
    case 'trend':
      return (
        <figure className="block">
          <TrendDrawing picture={block.picture} />
        </figure>
      );
  }
}

/** longer values want the whole width */
const LONG = 44;

function Facts({ facts }: { facts: readonly Fact[] }) {
  const [short, long] = [facts.filter(({ value }) => value.length <= LONG), facts.filter(({ value }) => value.length > LONG)];
  return (
    <>
      {[short, long].map(
        (some, index) =>
          some.length > 0 && (
            <dl key={index} className={`block facts${index === 1 ? ' long' : ''}`}>
              {some.map(({ label, value }, at) => (
                <div key={at}>
                  <dt>
                    <Words text={label} />
                  </dt>
                  <dd>
                    <Whole text={value} />
                  </dd>
                </div>
              ))}
            </dl>
          ),
      )}
    </>
  );
}

/** a part with a number and fewer letters than this never wraps: a figure with its unit, a date */
const SHORT_PART = 20;

/** Parts between commas stay whole where they are short; a line may break after a comma. */
function Whole({ text }: { text: string }) {
  const parts = text.split(', ');
  return parts.map((part, index) => (
    <Fragment key={index}>
      {index > 0 && ' '}
      <span className={part.length < SHORT_PART && /\d/.test(part) ? 'nw' : undefined}>
        <Words text={index < parts.length - 1 ? `${part},` : part} />
      </span>
    </Fragment>
  ));
}

const SHORT_CELL = 12;

type Table = Extract<Block, { kind: 'table' }>;

function Halves({ table }: { table: Table }) {
  const half = Math.ceil(table.rows.length / 2);
  return (
    <div className="block halves">
      <TableView table={{ ...table, rows: table.rows.slice(0, half) }} />
      {table.rows.length > 1 && <TableView table={{ ...table, rows: table.rows.slice(half) }} />}
    </div>
  );
}

function TableView({ table: { columns, rows, dense } }: { table: Table }) {
  const total = columns.reduce((sum, { width }) => sum + width, 0);
  return (
    <table className={`block${dense === true ? ' dense' : ''}`}>
      <colgroup>
        {columns.map(({ width }, index) => (
          <col key={index} style={{ width: `${((100 * width) / total).toFixed(2)}%` }} />
        ))}
      </colgroup>
      <thead>
        <tr>
          {columns.map((column, index) => (
            <HeadCell key={index} column={column} />
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row, at) => (
          <tr key={at}>
            {row.map((cell, index) => (
              <BodyCell key={index} cell={cell} figures={columns[index]?.figures === true} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function HeadCell({ column: { label, half, figures } }: { column: Column }) {
  if (label === '') return <td />;
  return (
    <th scope="col" className={figures === true ? 'r' : undefined}>
      <Words text={label} />
      {half !== undefined && <span className="figure"> {half}</span>}
    </th>
  );
}

function BodyCell({ cell, figures }: { cell: Cell; figures: boolean }) {
  const { text, half, strong } = typeof cell === 'string' ? { text: cell, half: undefined, strong: false } : cell;
  // one thing, such as a word and its time, is never cut in two by a narrow column
  const isOne = !figures && text.length <= SHORT_CELL && !/[ ,]/.test(text);
  const classes = [figures ? 'r' : '', strong === true ? 'b' : '', isOne ? 'nw' : ''].filter(Boolean).join(' ');
  return (
    <td className={classes === '' ? undefined : classes}>
      {figures ? <FigureWords figure={{ value: text, half }} /> : <Words text={[text, half].filter(Boolean).join(' ')} />}
    </td>
  );
}
