import { groupNames, stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import { common } from '../../../shared/words/common.ts';
import { useApp } from '../../app-parts.ts';
import { Key } from '../../components/Key.tsx';
import { useKey } from '../../keys/use-key.ts';
import { StepAlert } from '../visit/steps/frame/StepFrame.tsx';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { FractionField } from './cards/FractionField.tsx';
import { useLeadKeys } from './GeometryLead.tsx';
import { CardFigureText, CautionLine, VerdictBlock } from './parts.tsx';
import { StepDrawing } from './StepDrawing.tsx';
import type { Lead } from './use-lead.ts';
import './geometry.css';
import './GeometryFar.css';
import './parts.css';

/** The same step from two metres: one figure, one verdict, one button. */
export function GeometryFar({ lead }: { lead: Lead }) {
  const { step, place, field, item, now, here, button, shortSays, side, next } = lead;
  const farTurned = useApp((state) => state.farTurned);
  const text = stepWords(step.id, now.card?.adjuster);
  useLeadKeys(lead);
  useKey('far', farTurned);
  const about = [field === undefined ? '' : words.sides[side], now.card?.name ?? ''].filter(Boolean).join(' · ');
  const hasDrawing = item !== undefined;
  return (
    <div className="far geometry-far">
      <header className="far-head">
        <span className="trial">{words.place(groupNames[step.group], place.at, place.of)}</span>
        <span>{about}</span>
        <span className="grow" />
        {now.loose.length > 0 && (
          <span className="far-loose">
            <VerdictSign verdict="open" /> <b>{words.looseShort(now.loose.length)}</b>
          </span>
        )}
        <button type="button" className="button quiet" aria-label={words.far} onClick={farTurned}>
          <Key action="far" />
        </button>
      </header>
      <div className="geometry-far-main">
        <div className="geometry-far-left">
          <h1>{text.title}</h1>
          {hasDrawing ? (
            <StepDrawing lead={lead} far />
          ) : (
            <>
              <p>{text.does}</p>
              {text.list !== undefined && (
                <ul>
                  {text.list.map((line) => (
                    <li key={line}>{line}</li>
                  ))}
                </ul>
              )}
            </>
          )}
        </div>
        {field !== undefined && (
          <div className="geometry-far-right">
            <FractionField field={field} act={lead.act} disabled={!here.may} size="far" focusKey={`${step.id} ${side} far`} />
            <VerdictBlock lead={lead} />
            {item !== undefined && item.found.state === 'given' && step.id !== 'adjuster-as-found' && (
              <div className="far-card">
                <span className="second">{words.card}</span>
                <span className="card-figure">
                  <CardFigureText item={item} unit={item.isOfCard ? (now.card?.lengthUnit ?? now.unit) : now.unit} />
                </span>
              </div>
            )}
            <CautionLine lead={lead} short />
          </div>
        )}
      </div>
      <StepAlert />
      <footer className="far-foot" role="group" aria-label={common.region.bar}>
        <div>
          <div className={`sentence${shortSays.length > 26 ? ' longer' : ''}`}>{shortSays}</div>
          {next.key === 'measure-again' && <div className="next">{words.farThenAgain}</div>}
        </div>
        <span className="grow" />
        <button type="button" className="button main" disabled={!here.may} onClick={lead.act}>
          {next.key === 'measure-again' ? words.farAgain : next.key === 'go-on' ? button.split(':')[0] : button} <Key action="mark" />
        </button>
      </footer>
    </div>
  );
}
