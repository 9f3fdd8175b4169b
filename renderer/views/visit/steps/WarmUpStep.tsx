/** Draft and regulator before the air is touched: gauge zeroed, over the fire, at the breech, regulator. */
import { lineLimitText, cardUnit } from '../../../../shared/report/card-format.ts';
import { DRAFT_MOVED_PA } from '../../../../shared/tuning/visit/staleness.ts';
import { draftDropPa, storedDraft, type DraftPlace } from '../../../../shared/tuning/trial/draft.ts';
import type { CardQuantity } from '../../../../shared/tuning/card/target-card.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { warmUpWords as words } from '../../../../shared/words/tune/trade.ts';
import { useParts } from '../../../app-parts.ts';
import { KeptField, optionsOf } from '../../../fields/KeptField.tsx';
import { typedQuantity } from '../../../fields/typed.ts';
import { ChangedList } from '../ChangedList.tsx';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { MissingList, StepFrame, type MainAct } from './frame/StepFrame.tsx';
import { VerdictScale } from '../../../../shared/report/drawings/VerdictScale.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { useVisit } from '../use-visit.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import { formatNumber, formatWithUnit, shownAs, withUnit } from '../../../../shared/format/quantity.ts';
import '../visit.css';
import './steps.css';
import { Choice } from '../../../components/Field.tsx';

type When = 'as-found' | 'set';
const draftAt = (visit: Visit, when: When) => visit.drafts.findLast((draft) => draft.when === when);

export function WarmUpStep() {
  const { visits } = useParts();
  const { visit, stage, units, may, put } = useVisit();
  const zeroed = visit.warmUp?.gaugeZeroedWallMs;
  const found = visit.trials.find(({ id }) => id === stage.asFoundTrialId)?.draft ?? draftAt(visit, 'as-found');
  const set = draftAt(visit, 'set');
  const drop = set === undefined ? undefined : draftDropPa(set);
  const zero = (): void => void put({ path: ['warmUp'], after: { ...visit.warmUp, gaugeZeroedWallMs: visits.nowWallMs() } });
  const chooseRegulator = (regulator: '' | NonNullable<NonNullable<Visit['warmUp']>['regulator']>): void => {
    const takesFound = regulator === 'left-as-found' && found !== undefined && visit.changes.length === 0 && set === undefined;
    put(
      { path: ['warmUp'], after: { ...visit.warmUp, regulator: regulator === '' ? undefined : regulator } },
      // nothing was changed and nothing was set: what was read as found stands
      ...(takesFound ? [{ path: ['drafts', visit.drafts.length], after: { ...found, wallMs: visits.nowWallMs(), when: 'set' } }] : []),
    );
  };
  const main: MainAct | undefined = zeroed === undefined && may ? { text: words.gaugeDone, run: zero } : undefined;
  return (
    <StepFrame
      step="warm-up"
      main={main}
      right={
        <>
          <ChangedList />
          <MissingList step="warm-up" />
        </>
      }
    >
      <h2>{words.title}</h2>
      <p className="second">{words.smokeFirst}</p>
      <table className="since-table warm-up-table" aria-label={words.title}>
        <thead>
          <tr>
            <th scope="col">{words.columns.row}</th>
            <th scope="col" className="right">
              {words.columns.found}
            </th>
            <th scope="col">{words.columns.set}</th>
            <th scope="col">{words.columns.slot}</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">
              <VerdictSign verdict={zeroed === undefined ? 'open' : 'pass'} /> <span className="warm-up-name">{words.gauge}</span>
              <span className="basis">{words.gaugeAbout}</span>
            </th>
            <td />
            <td>{zeroed === undefined ? '–' : words.gaugeAt(formatClock(zeroed, visit.zoneMinutes, 'minutes'))}</td>
            <td />
          </tr>
          <DraftRow place="over-fire" found={found?.overFirePa} />
          <DraftRow place="breech" found={found?.breechPa} />
          <tr>
            <th scope="row">
              <VerdictSign verdict={visit.warmUp?.regulator === undefined ? 'open' : 'pass'} />{' '}
              <span className="warm-up-name">{words.regulator}</span>
            </th>
            <td />
            <td colSpan={2}>
              <Choice
                bare
                label={words.regulator}
                value={visit.warmUp?.regulator ?? ''}
                width={220}
                disabled={!may}
                change={chooseRegulator}
                options={optionsOf(words.regulators)}
              />
            </td>
          </tr>
        </tbody>
      </table>
      <p>
        {drop !== undefined && <b>{words.lost(formatWithUnit('draft', drop, units))} </b>}
        <ChannelName text={words.first} />
      </p>
    </StepFrame>
  );
}

function DraftRow({ place, found }: { place: DraftPlace; found: number | undefined }) {
  const { visits } = useParts();
  const { visit, units, may, edit } = useVisit();
  const key = place === 'over-fire' ? ('overFirePa' as const) : ('breechPa' as const);
  const quantity: CardQuantity = key;
  const name = place === 'over-fire' ? words.overFire : words.breech;
  const at = visit.drafts.findLastIndex((draft) => draft.when === 'set');
  const value = at < 0 ? undefined : visit.drafts[at]?.[key];
  const limit = visit.targetCard?.lines.find((line) => line.quantity === quantity);
  const { factor, decimals, unit } = shownAs('draft', units);
  const isIn =
    value === undefined || limit === undefined ? undefined : value >= (limit.low ?? -Infinity) && value <= (limit.high ?? Infinity);
  const keep = (pa: number | undefined): string | undefined => {
    const index = at < 0 ? visit.drafts.length : at;
    const { [key]: _gone, ...rest } = visit.drafts[index] ?? { wallMs: visits.nowWallMs(), when: 'set' as const };
    const next = pa === undefined ? rest : { ...rest, [key]: pa };
    const wallMs = visits.nowWallMs();
    const write = (inner: number): string => withUnit(formatNumber(inner * factor, decimals), unit);
    // draft over the fire that was set elsewhere than found makes what was read before stale; written once
    const was = visit.changes.findIndex((change) => change.kind === 'draft' && change.note === words.overFire);
    const moved = key === 'overFirePa' && pa !== undefined && found !== undefined && Math.abs(pa - found) >= DRAFT_MOVED_PA;
    return edit(
      { path: ['drafts', index], after: next },
      ...(moved
        ? [
            {
              path: ['changes', was < 0 ? visit.changes.length : was],
              after: { wallMs, kind: 'draft', note: words.overFire, before: write(found), after: write(pa) },
            },
          ]
        : was >= 0 && key === 'overFirePa'
          ? [{ path: ['changes'], after: visit.changes.filter((_, one) => one !== was) }]
          : []),
    );
  };
  return (
    <tr>
      <th scope="row">
        <VerdictSign verdict={value === undefined ? 'open' : isIn === false ? 'fail' : 'pass'} />{' '}
        <span className="warm-up-name">{name}</span>
        <span className="basis">{place === 'over-fire' ? words.running : words.beforeRegulator}</span>
      </th>
      <td className="number right second">{found === undefined ? '–' : formatNumber(found * factor, decimals)}</td>
      <td>
        <KeptField
          name={`draft-set-${key}`}
          label={words.setField(name)}
          bare
          unit={unit}
          width={170}
          disabled={!may}
          shown={value === undefined ? '' : formatNumber(value * factor, decimals).replace('−', '-')}
          parse={(text) => {
            const typed = typedQuantity(text, 'draft', units);
            if (typed.kind !== 'value') return typed;
            const stored = storedDraft({ typedPa: typed.value, place, habit: visit.draftHabit, pressurised: visit.pressurised });
            return stored.kind === 'stored' ? { kind: 'value', value: stored.pa } : { kind: 'wrong', error: words.sign };
          }}
          keep={keep}
        />
      </td>
      <td>
        {limit === undefined ? (
          <span className="second">{words.noLimit}</span>
        ) : (
          <>
            {value !== undefined && (
              <VerdictScale
                width={128}
                picture={{ value, low: limit.low, high: limit.high, verdict: isIn === true ? 'pass' : 'fail', label: '' }}
              />
            )}
            {withUnit(lineLimitText(limit, units), cardUnit(quantity, units))}
            <span className="basis">{limit.source}</span>
          </>
        )}
      </td>
    </tr>
  );
}
