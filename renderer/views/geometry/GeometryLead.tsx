import { groupNames, stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import type { StaleReason } from '../../../shared/geometry/stale.ts';
import { staleBeyond } from '../../../shared/tuning/set-up/geometry-changes.ts';
import { staleWords } from '../../../shared/words/geometry/geometry.ts';
import { useApp } from '../../app-parts.ts';
import { Key } from '../../components/Key.tsx';
import { useKey } from '../../keys/use-key.ts';
import { KeptField } from '../../fields/KeptField.tsx';
import { plainText } from '../../fields/typed.ts';
import { StepFrame } from '../visit/steps/frame/StepFrame.tsx';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { FractionField } from './cards/FractionField.tsx';
import { Photos } from '../photos/Photos.tsx';
import { NozzleRest } from './NozzleRest.tsx';
import { CardFigureText, CautionLine, EffectLines, LooseStrip, VerdictBlock } from './parts.tsx';
import { StepDrawing } from './StepDrawing.tsx';
import { StepList } from './StepList.tsx';
import type { Lead } from './use-lead.ts';
import './geometry.css';
import './GeometryFar.css';
import './GeometryLead.css';

/** Keys that the near and the far view share. */
export function useLeadKeys(lead: Lead): void {
  useKey('mark', lead.act, lead.here.may);
  useKey('main', lead.act, lead.here.may);
  useKey('leave', () => lead.leave?.(), lead.leave !== undefined);
  useKey('newNozzle', () => lead.newNozzle?.(), lead.newNozzle !== undefined);
}

/** One thing at a time, in the order of the hands. */
export function GeometryLead({ lead, toTable }: { lead: Lead; toTable: () => void }) {
  const { step, place, field, item, now, here, button, says } = lead;
  const farTurned = useApp((state) => state.farTurned);
  const text = stepWords(step.id, now.card?.adjuster);
  useLeadKeys(lead);
  useKey('together', toTable);
  useKey('far', farTurned);
  useKey('back', () => lead.back?.(), lead.back !== undefined);
  const cardLine =
    now.card === undefined
      ? ''
      : [now.card.name, now.card.source.page === undefined ? '' : `page ${now.card.source.page}`].filter(Boolean).join(', ');
  const hasDrawing =
    step.group === 'electrodes' ||
    step.id === 'head-to-tube-end' ||
    step.id === 'adjuster-to-zero' ||
    step.id === 'fine-to-zero' ||
    step.id === 'zero-tight' ||
    item !== undefined;
  return (
    <StepFrame
      step="set-up"
      bar={
        <>
          <button type="button" className="button tall" onClick={toTable}>
            {words.table} <Key action="together" />
          </button>
          <button type="button" className="button tall" onClick={farTurned}>
            {words.far} <Key action="far" />
          </button>
          {lead.back !== undefined && (
            <button type="button" className="button tall" onClick={lead.back}>
              {words.back} <Key action="back" />
            </button>
          )}
          <span className="grow" />
          <p className="says right" aria-live="polite">
            <b>{says}</b>
          </p>
        </>
      }
      others={
        <>
          {lead.newNozzle !== undefined && (
            <button type="button" className="button tall" onClick={lead.newNozzle}>
              {words.newNozzle} <Key action="newNozzle" />
            </button>
          )}
          {lead.leave !== undefined && (
            <button type="button" className="button tall" onClick={lead.leave}>
              {words.leave} <Key action="leave" />
            </button>
          )}
        </>
      }
      ownMain={
        <button type="button" className="button main" disabled={!here.may} onClick={lead.act}>
          {button} <Key action="mark" />
        </button>
      }
    >
      <div className="hand-work">
        <StepList lead={lead} />
        <div className="hand-step" tabIndex={0} role="region" aria-label={text.title}>
          <header>
            <h1>{text.title}</h1>
            <span className="grow" />
            <span className="second">{words.place(groupNames[step.group], place.at, place.of)}</span>
          </header>
          <p className="does">{text.does}</p>
          <div className="hand-body">
            {hasDrawing && <StepDrawing lead={lead} />}
            {!hasDrawing && text.list !== undefined && (
              <ul className="hand-list">
                {text.list.map((line) => (
                  <li key={line}>
                    <VerdictSign verdict="open" /> {line}
                  </li>
                ))}
              </ul>
            )}
            {step.id === 'photo' && <Photos here={here} />}
            {step.id === 'photo' && (
              <KeptField
                name="geometry-photos"
                label={words.photos}
                numeric={false}
                width={420}
                disabled={!here.may}
                shown={here.visit.setUp.geometry?.photos ?? ''}
                parse={plainText}
                keep={(after) => here.edit({ path: ['setUp', 'geometry', 'photos'], after })}
              />
            )}
            {step.id === 'as-left' && <StaleList lead={lead} />}
            {field !== undefined && (
              <div className="hand-side">
                <FractionField field={field} act={lead.act} disabled={!here.may} size="near" focusKey={`${step.id} ${lead.side}`} />
                {step.id === 'nozzle-stamp' ? <NozzleRest lead={lead} /> : <VerdictBlock lead={lead} />}
                {item !== undefined && step.id !== 'adjuster-as-found' && (
                  <div className="card-line">
                    <div className="row">
                      <span className="second">{item.isOfCard ? words.cardFigure : words.makersFigure}</span>
                      <span className="grow" />
                      <span className="card-figure">
                        <CardFigureText item={item} unit={item.isOfCard ? (now.card?.lengthUnit ?? now.unit) : now.unit} />
                      </span>
                    </div>
                    <div className="small second">
                      {now.card === undefined && item.found.state === 'none' ? words.noCard : item.isOfCard ? cardLine : ''}
                    </div>
                  </div>
                )}
                <EffectLines lead={lead} />
              </div>
            )}
          </div>
          <span className="grow" />
          <div className="hand-foot">
            <CautionLine lead={lead} />
            <LooseStrip lead={lead} />
          </div>
        </div>
      </div>
    </StepFrame>
  );
}

function StaleList({ lead: { now, here } }: { lead: Lead }) {
  const ofItems = Object.values(now.items).flatMap(({ item, staleBecause }) =>
    staleBecause === undefined ? [] : [{ what: item, because: staleBecause }],
  );
  const stale: StaleReason[] = [...ofItems, ...staleBeyond(here.visit)];
  return (
    <section>
      <h2>{stale.length === 0 ? words.nothingStale : words.staleTitle}</h2>
      <ul className="hand-list">
        {stale.map((reason) => (
          <li key={reason.what}>
            <VerdictSign verdict="open" /> {staleWords(reason)}
          </li>
        ))}
      </ul>
    </section>
  );
}
