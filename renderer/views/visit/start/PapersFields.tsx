/** The last visit's figures from a paper at the appliance: for the first visit that is kept here. */
import { useState } from 'react';
import { cardShape } from '../../../../shared/report/card-format.ts';
import { paperFigures, type PaperFigure, type Papers } from '../../../../shared/tuning/visit/papers.ts';
import { sinceQuantityName, sinceWords as words } from '../../../../shared/words/visit/since-last.ts';
import { KeptField } from '../../../fields/KeptField.tsx';
import { plainText, typedPlain } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import { oilFuelIds } from '../../../../shared/combustion/fuel.ts';
import { common } from '../../../../shared/words/common.ts';
import { Choice } from '../../../components/Field.tsx';
import { formatNumber, shownAs } from '../../../../shared/format/quantity.ts';
import '../visit.css';

export function PapersFields() {
  const { visit, may } = useVisit();
  const [open, setOpen] = useState(visit.papers !== undefined);
  return (
    <section aria-label={words.papersTitle}>
      <h2>{words.papersTitle}</h2>
      <p className="second">{words.papersAbout}</p>
      {open ? (
        <div className="form">
          <div className="form-row">
            <DayField />
            <FuelField />
            <NozzleField />
          </div>
          <div className="form-row">
            {paperFigures.map((figure) => (
              <PaperField key={figure} figure={figure} />
            ))}
          </div>
        </div>
      ) : (
        <button type="button" className="button" disabled={!may} onClick={() => setOpen(true)}>
          {words.papersOpen}
        </button>
      )}
    </section>
  );
}

/** The papers with one field changed; nothing at all when none is left. */
function useKeepPaper(): (part: { [K in keyof Papers]?: Papers[K] | undefined }) => string | undefined {
  const { visit, edit } = useVisit();
  return (part) => {
    const next = Object.fromEntries(Object.entries({ ...visit.papers, ...part }).filter(([, value]) => value !== undefined));
    return edit(Object.keys(next).length === 0 ? { path: ['papers'] } : { path: ['papers'], after: next });
  };
}

function DayField() {
  const { visit, may } = useVisit();
  const keep = useKeepPaper();
  return (
    <KeptField
      name="paper-day"
      label={words.papersDay}
      numeric={false}
      width={200}
      disabled={!may}
      shown={visit.papers?.day ?? ''}
      parse={(text) => {
        const read = plainText(text);
        return read.kind !== 'value' || /^\d{4}-\d{2}-\d{2}$/.test(read.value.trim()) ? read : { kind: 'wrong', error: words.wrongDay };
      }}
      keep={(day) => (keep({ day: day?.trim() }) === undefined ? undefined : words.wrongDay)}
    />
  );
}

/** What was burned, and through which nozzle: without them gas and stack would be compared where they say nothing. */
function FuelField() {
  const { visit, may } = useVisit();
  const keep = useKeepPaper();
  return (
    <Choice
      label={words.papersFuel}
      width={280}
      value={visit.papers?.fuelId ?? ''}
      change={(fuelId) => {
        if (may) keep({ fuelId: fuelId === '' ? undefined : fuelId });
      }}
      options={[
        { value: '', text: words.papersFuelUnsaid },
        ...oilFuelIds.map((id) => ({ value: id as string, text: common.fuels[id] ?? id })),
      ]}
    />
  );
}

function NozzleField() {
  const { visit, units, may } = useVisit();
  const keep = useKeepPaper();
  const { unit, factor } = shownAs('nozzleFlow', units);
  const kept = visit.papers?.nozzleFlowLh;
  return (
    <KeptField
      name="paper-nozzle"
      label={words.papersNozzle}
      unit={unit}
      width={200}
      disabled={!may}
      shown={kept === undefined ? '' : String(Number(formatNumber(kept * factor, 3)))}
      parse={(text) => typedPlain(text)}
      keep={(flow) => keep({ nozzleFlowLh: flow === undefined ? undefined : flow / factor })}
    />
  );
}

function PaperField({ figure }: { figure: PaperFigure }) {
  const { visit, units, may } = useVisit();
  const keep = useKeepPaper();
  const { unit, factor, offset } = cardShape(figure, units);
  const kept = visit.papers?.[figure];
  return (
    <KeptField
      name={`paper-${figure}`}
      label={sinceQuantityName(figure)}
      unit={unit}
      width={150}
      disabled={!may}
      shown={kept === undefined ? '' : String(Number(formatNumber(kept * factor + offset, 3).replace('−', '-')))}
      parse={(text) => {
        const typed = typedPlain(text);
        const isDraft = figure === 'overFirePa' || figure === 'breechPa';
        if (isDraft && typed.kind === 'value' && typed.value > 0 && !visit.pressurised) {
          // suction without a sign, where this person writes it so; otherwise it could mean either
          return visit.draftHabit === 'plain' ? { kind: 'value', value: -typed.value } : { kind: 'wrong', error: words.wrongDraft };
        }
        return typed;
      }}
      keep={(shown) => keep({ [figure]: shown === undefined ? undefined : (shown - offset) / factor })}
    />
  );
}
