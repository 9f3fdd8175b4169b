import { Words } from '../drawings/Drawing.tsx';
import type { ReportModel, Section } from '../report-model.ts';
import { reportWords } from '../../words/paper/page-one.ts';
import { BlockView } from './BlockView.tsx';
import { FirstPage, PageHead } from './FirstPage.tsx';
import { Sheet } from './Sheet.tsx';

type Props = { model: ReportModel; onlyOwner: boolean; annex: boolean };

/** Page 1 the tune-up, page 2 the owner's; then the technical record, and the annex where it was asked for. */
export function ReportPages({ model, onlyOwner, annex }: Props) {
  const edges = { tape: model.tape, foot: model.foot };
  return (
    <main>
      {!onlyOwner && (
        <Sheet {...edges} name="first">
          <FirstPage page={model.first} />
        </Sheet>
      )}
      <Sheet {...edges} name="owner">
        <PageHead title={model.owner.title} about={model.owner.about} side={model.owner.side} />
        {model.owner.blocks.map((block, index) => (
          <BlockView key={index} block={block} level={2} />
        ))}
      </Sheet>
      {!onlyOwner && (
        <Sheet {...edges} name="record">
          <h1>{reportWords.recordTitle}</h1>
          {model.record.map((section, index) => (
            <SectionView key={index} section={section} />
          ))}
        </Sheet>
      )}
      {!onlyOwner && annex && (
        <Sheet {...edges} name="record annex">
          <h1>{model.annex.title}</h1>
          {model.annex.blocks.map((block, index) => (
            <BlockView key={index} block={block} level={2} />
          ))}
        </Sheet>
      )}
    </main>
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
