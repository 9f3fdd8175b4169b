import type { ReactNode } from 'react';
import { Words } from '../drawings/Drawing.tsx';
import type { ReportModel, Section } from '../report-model.ts';
import { reportWords } from '../../words/report.ts';
import { BlockView } from './BlockView.tsx';
import { FirstPage } from './FirstPage.tsx';

type Props = { model: ReportModel; onlyOwner: boolean; annex: boolean };

/** Page 1 the tune-up, page 2 the owner's; then the technical record, and the annex where it was asked for. */
export function ReportPages({ model, onlyOwner, annex }: Props) {
  return (
    <main>
      {!onlyOwner && (
        <Sheet model={model} name="first">
          <FirstPage page={model.first} />
        </Sheet>
      )}
      <Sheet model={model} name="owner">
        <h1>{model.owner.title}</h1>
        {model.owner.blocks.map((block, index) => (
          <BlockView key={index} block={block} level={2} />
        ))}
      </Sheet>
      {!onlyOwner && (
        <Sheet model={model} name="record">
          <h1>{reportWords.recordTitle}</h1>
          {model.record.map((section, index) => (
            <SectionView key={index} section={section} />
          ))}
        </Sheet>
      )}
      {!onlyOwner && annex && (
        <Sheet model={model} name="record annex">
          <h1>{model.annex.title}</h1>
          {model.annex.blocks.map((block, index) => (
            <BlockView key={index} block={block} level={2} />
          ))}
        </Sheet>
      )}
    </main>
  );
}

/** On screen a sheet of paper with its foot; on paper the foot and the tape are the page's own. */
function Sheet({ model: { tape, foot }, name, children }: { model: ReportModel; name: string; children: ReactNode }) {
  const strip = tape !== undefined && (
    <p className="tape" role="note">
      {tape}
    </p>
  );
  return (
    <section className={`sheet ${name}`}>
      {strip}
      {children}
      <div className="screen-foot">
        <span>
          <Words text={foot.cautions} />
        </span>
        <span className="nw mono">{foot.run}</span>
      </div>
      {strip}
    </section>
  );
}

function SectionView({ section: { title, blocks } }: { section: Section }) {
  // a heading goes to the next page with its drawing, which is not cut
  const drawing = blocks.findIndex(({ kind }) => kind === 'trend' || kind === 'air-curve');
  const held = drawing === 0 || drawing === 1 ? drawing + 1 : 0;
  const shown = blocks.map((block, index) => <BlockView key={index} block={block} level={3} />);
  return (
    <section>
      <div className={held > 0 ? 'held' : undefined}>
        <h2>
          <Words text={title} />
        </h2>
        {shown.slice(0, held)}
      </div>
      {shown.slice(held)}
    </section>
  );
}
