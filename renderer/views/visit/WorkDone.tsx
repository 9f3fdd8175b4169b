/** Work done, parts, defects left, who was told, and when the next visit is due. */
import { toldHow, workKinds, type WorkItem } from '../../../shared/tuning/visit/work-done.ts';
import { labelWords } from '../../../shared/words/paper/label.ts';
import { changedWords, workWords as words } from '../../../shared/words/tune/trade.ts';
import { formatIsoDay, isoDay } from '../../../shared/format/date.ts';
import { labelRows, labelWarning, nextDueOf } from '../../../shared/report/label-facts.ts';
import { judgeVisit } from '../../../shared/tuning/advice/safe.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Choice } from '../../components/Field.tsx';
import { KeptField, optionsOf } from '../../fields/KeptField.tsx';
import { plainText, typedDay } from '../../fields/typed.ts';
import { Defects } from './Defects.tsx';
import { useVisit } from './use-visit.ts';
import './visit.css';
import './work.css';

export function WorkDone() {
  const { visits } = useParts();
  const { visit, may, put } = useVisit();
  const work = visit.work ?? [];
  const add = (kind: WorkItem['kind']): void => {
    const item = { wallMs: visits.nowWallMs(), kind };
    put(visit.work === undefined ? { path: ['work'], after: [item] } : { path: ['work', work.length], after: item });
  };
  return (
    <div className="work-done">
      <section aria-label={words.title}>
        <h2>{words.title}</h2>
        {work.length > 0 && (
          <div className="work-row work-head" aria-hidden="true">
            <span />
            <span>{words.noteHead}</span>
            <span>{words.partHead}</span>
          </div>
        )}
        <ul className="work-list">
          {work.map((item, at) => (
            <WorkRow key={`${item.wallMs}-${at}`} item={item} at={at} />
          ))}
        </ul>
        <p className="second">{words.addTitle}</p>
        <div className="press-grid wide">
          {workKinds.map((kind) => (
            <button key={kind} type="button" className="button" disabled={!may} onClick={() => add(kind)}>
              {words.kinds[kind]}
            </button>
          ))}
        </div>
      </section>
      <Defects />
      <section aria-label={words.told}>
        <h2>{words.told}</h2>
        <div className="form-row">
          <Told />
          <NextDue />
        </div>
      </section>
      <Label />
    </div>
  );
}

function WorkRow({ item, at }: { item: WorkItem; at: number }) {
  const { visit, may, edit, put } = useVisit();
  const what = words.kinds[item.kind];
  const keep = (key: 'note' | 'part') => (text: string | undefined) => {
    const { [key]: _gone, ...rest } = item;
    return edit({ path: ['work', at], after: text === undefined ? rest : { ...rest, [key]: text } });
  };
  return (
    <li className="work-row">
      <b>{what}</b>
      <KeptField
        name={`work-note-${at}`}
        label={words.note(what)}
        bare
        long
        numeric={false}
        disabled={!may}
        shown={item.note ?? ''}
        parse={plainText}
        keep={keep('note')}
      />
      <KeptField
        name={`work-part-${at}`}
        label={words.part(what)}
        bare
        numeric={false}
        disabled={!may}
        shown={item.part ?? ''}
        parse={plainText}
        keep={keep('part')}
      />
      <button
        type="button"
        className="button small"
        aria-label={`${changedWords.remove}: ${what}`}
        disabled={!may}
        onClick={() => put({ path: ['work'], after: (visit.work ?? []).filter((_, index) => index !== at) })}
      >
        ×
      </button>
    </li>
  );
}

/** The lines of the label, as they stand now. */
function Label() {
  const { visit, units } = useVisit();
  const appliance = useApp((state) => state.appliance?.appliance);
  const certificateUntil = useApp((state) => state.certificateUntil);
  const warning = labelWarning(visit, judgeVisit(visit, { appliance, certificateUntil }).safe === 'no');
  const due = nextDueOf(visit, appliance);
  const rows = [
    ...labelRows(visit, units).map(({ name, value, unit }) => ({ name, text: `${value} ${unit}`.trim() })),
    { name: labelWords.due, text: due === undefined ? labelWords.noDue : formatIsoDay(due) },
  ];
  return (
    <section aria-label={words.label}>
      <h2>{words.label}</h2>
      {warning !== undefined && (
        <p>
          <b>{warning}</b>
        </p>
      )}
      <dl className="summary">
        {rows.map(({ name, text }) => (
          <div key={name}>
            <dt>
              <ChannelName text={name} />
            </dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

function Told() {
  const { visits } = useParts();
  const { visit, may, edit, put } = useVisit();
  const told = visit.ownerTold;
  return (
    <>
      <KeptField
        name="owner-told"
        label={words.whom}
        numeric={false}
        width={230}
        disabled={!may}
        shown={told?.whom ?? ''}
        parse={plainText}
        keep={(whom) =>
          edit(
            whom === undefined
              ? { path: ['ownerTold'] }
              : { path: ['ownerTold'], after: { wallMs: told?.wallMs ?? visits.nowWallMs(), whom, how: told?.how ?? 'in-person' } },
          )
        }
      />
      {told !== undefined && (
        <div>
          <div className="field-label">{words.how}</div>
          <Choice
            bare
            label={words.how}
            value={told.how}
            width={150}
            disabled={!may}
            change={(how) => put({ path: ['ownerTold'], after: { ...told, how } })}
            options={optionsOf(words.hows).filter(({ value }) => toldHow.includes(value))}
          />
        </div>
      )}
    </>
  );
}

/** Kept with the visit, and with the appliance, which is listed by it. */
function NextDue() {
  const { actions } = useParts();
  const { visit, may, edit } = useVisit();
  const stored = useApp((state) => state.appliance);
  return (
    <KeptField
      name="next-due"
      label={words.next}
      numeric={false}
      width={170}
      disabled={!may}
      hint={words.nextHint}
      shown={visit.nextDue ?? ''}
      parse={(text) => {
        const read = typedDay(text);
        if (read.kind === 'wrong') return { kind: 'wrong', error: words.nextWrong };
        const isPast = read.kind === 'value' && read.value <= isoDay(visit.startedWallMs, visit.zoneMinutes);
        return isPast ? { kind: 'wrong', error: words.nextPast } : read;
      }}
      keep={(day) => {
        const after = day?.trim();
        if (edit(after === undefined ? { path: ['nextDue'] } : { path: ['nextDue'], after }) !== undefined) return words.nextWrong;
        if (after !== undefined && stored !== undefined && stored.id === visit.applianceId) {
          const { id, revision, appliance } = stored;
          void actions.ask('appliance.save', { id, revision, appliance: { ...appliance, nextDue: after } });
        }
        return undefined;
      }}
    />
  );
}
