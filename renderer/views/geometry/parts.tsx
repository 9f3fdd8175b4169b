/** Parts that the near and the far view share. */
import type { ItemNow } from '../../../shared/tuning/set-up/geometry-now.ts';
import { cardFigureWords, failLines, geometryVerdictWords, measuredBefore } from '../../../shared/words/geometry/geometry.ts';
import { cautionAt, effectWords, looseNames } from '../../../shared/words/geometry/geometry-steps.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import { NoticeSign } from '../../components/Signs.tsx';
import { VerdictSign, type SignName } from '../../../shared/report/drawings/VerdictSign.tsx';
import type { Lead } from './use-lead.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import './parts.css';

export const signOf = (verdict: ItemNow['now'] | undefined): SignName =>
  verdict?.verdict === 'pass' ? 'pass' : verdict?.verdict === 'fail' ? 'fail' : 'open';

/** How much and which way, then the verb. */
export function verdictLines({ item, verdict, step, now }: Lead): { sign: SignName; state: string; order: string } | undefined {
  if (item === undefined || verdict === undefined || verdict.verdict === 'not-measured' || verdict.verdict === 'unreadable')
    return undefined;
  if (step.id === 'adjuster-as-found') return { sign: 'not-known', state: words.foundOnly, order: '' };
  if (verdict.verdict === 'pass') return { sign: 'pass', state: words.good, order: '' };
  if (verdict.verdict === 'no-figure')
    return { sign: 'not-known', state: words.noVerdict, order: geometryVerdictWords(item.item, verdict, now.unit) };
  const { state, order } = failLines(item.item, verdict, now.unit);
  return { sign: 'fail', state, order };
}

export function VerdictBlock({ lead }: { lead: Lead }) {
  const lines = verdictLines(lead);
  const because = lead.step.id === 'adjuster-as-found' ? undefined : lead.item?.staleBecause;
  return (
    <div
      className={`verdict-block${lines !== undefined && (lines.state.length > 18 || lines.order.length > 26) ? ' long' : ''}`}
      role="status"
    >
      {lines !== undefined && (
        <>
          <VerdictSign verdict={lines.sign} />
          <div>
            <div className="state">{lines.state}</div>
            {lines.order !== '' && <div className="order">{lines.order}</div>}
            {because !== undefined && <div className="second">{measuredBefore(because)}</div>}
          </div>
        </>
      )}
    </div>
  );
}

/** '1/2', '±1/32 in': the figure strong, what belongs to it small. */
export function CardFigureText({ item, unit }: { item: ItemNow; unit: 'mm' | 'inch' }) {
  if (item.found.state === 'none')
    return <span className="second">{geometryVerdictWords(item.item, { verdict: 'no-figure', value: 0, why: item.found.why }, unit)}</span>;
  const text = cardFigureWords(item.item, item.found.figure, unit);
  const at = text.indexOf('±');
  const [strong, rest] = at < 0 ? [text, ''] : [text.slice(0, at), text.slice(at)];
  return (
    <>
      <b>{strong.trim()}</b> {rest !== '' && <span className="second rest">{rest}</span>}
    </>
  );
}

export function EffectLines({ lead: { item, verdict, step } }: { lead: Lead }) {
  if (item === undefined || step.id === 'adjuster-as-found' || verdict?.verdict !== 'fail') return null;
  const effects = effectWords[item.item];
  const [title, text] = verdict.side === 'too-large' || effects.small[0] === '' ? effects.large : effects.small;
  return (
    <section className="if-it-stays">
      <h2>{title}</h2>
      <p>
        <ChannelName text={text} /> <span className="second small unwrapped">{words.commonPractice}</span>
      </p>
    </section>
  );
}

export function CautionLine({ lead: { step }, short = false }: { lead: Lead; short?: boolean }) {
  const caution = cautionAt(step.group, step.id);
  return caution === undefined ? null : <HandCaution caution={short ? [caution[0], ''] : caution} />;
}

/** It stays where hands go near the parts, also after the cautions of the step were read. */
export function HandCaution({ caution: [strong, rest] }: { caution: readonly [strong: string, rest: string] }) {
  return (
    <div className="hand-caution">
      <NoticeSign />
      <span>
        <b>{strong}</b> {rest !== '' && <span className="second">{rest}</span>}
      </span>
    </div>
  );
}

export function LooseStrip({ lead: { now } }: { lead: Lead }) {
  return (
    <div className="loose-strip" role="group" aria-label={words.looseNow(now.loose.length)}>
      <b>{words.looseNow(now.loose.length)}</b>
      <ul>
        {now.loose.map((part) => (
          <li key={part}>
            <VerdictSign verdict="open" />
            {looseNames[part]}
          </li>
        ))}
      </ul>
      <span className="grow" />
      {now.loose.length > 0 && <span className="small second">{words.looseAbout}</span>}
    </div>
  );
}
