import type { Derived, DerivedKey } from '../../../../shared/measurement/derived.ts';
import { quantities, type Quantity } from '../../../../shared/units/quantities.ts';
import { blankWords, channelWords } from '../../../../shared/words/tune/states.ts';
import { how } from '../../../../shared/words/tune/how.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import type { ChannelRowState } from '../../../state/channels.ts';
import type { Face } from '../../../state/run-record.ts';
import { DASH, formatValue, formatWithHalf, shownAs, type UnitSystem } from '../../../../shared/format/quantity.ts';
import './DerivedRow.css';

type Shown = { key: DerivedKey; withHalf?: boolean; isWide?: boolean; tail?: string };
/** In US units efficiency leads on the higher heating value and CO is air-free; in metric ones on the lower, and CO goes by fuel energy, as limits there do. */
const shownIn = {
  us: [
    { key: 'netStackC' },
    { key: 'co2Percent' },
    { key: 'excessAirPercent' },
    { key: 'coAirFreePpm' },
    { key: 'stackLossPercent' },
    { key: 'efficiencyHhvPercent', withHalf: true },
    { key: 'waterDewPointMarginK', tail: live.derived.water },
  ],
  metric: [
    { key: 'netStackC' },
    { key: 'co2Percent' },
    { key: 'excessAirPercent' },
    { key: 'coMgPerKwh', isWide: true },
    { key: 'stackLossPercent' },
    { key: 'efficiencyLhvPercent', withHalf: true },
    { key: 'waterDewPointMarginK', tail: live.derived.water },
  ],
} as const satisfies Record<UnitSystem, readonly Shown[]>;

/** The heating-value basis is part of a figure's name. */
function labelOf(key: DerivedKey): string {
  const { label, basis }: Quantity = quantities[key];
  return basis === 'HHV' || basis === 'LHV' ? `${label}, ${basis}` : label;
}

/** What makes the efficiency provisional: a channel that does not come to rest before one that is on its way to it. */
function restlessOf(rows: readonly ChannelRowState[]): string | undefined {
  for (const states of [
    ['drifting', 'surging'],
    ['moving', 'settling'],
  ] as const)
    for (const channel of ['stackTemperature', 'o2', 'airTemperature'] as const) {
      const state = states.find((one) => rows.some((row) => row.channel === channel && row.state === one));
      if (state !== undefined) return live.derived.restless[state](channelWords[channel].inText);
    }
  return undefined;
}

/** Figures computed now: each with its basis; blank with the reason; provisional with the reason under it. */
type Props = { derived: Face['derived']; rows: readonly ChannelRowState[]; units: UnitSystem; open: (figure: DerivedKey) => void };

export function DerivedRow({ derived, rows, units, open }: Props) {
  const restless = restlessOf(rows);
  return (
    <dl className="derived">
      {shownIn[units].map(({ key, withHalf, isWide = withHalf, tail }: Shown) => {
        const value = derived?.values[key];
        const half = derived?.expanded[key];
        const unit = [shownAs(key, units).unit, tail].filter((part) => part !== undefined && part !== '').join(', ');
        const blank = derived?.blank[key];
        return (
          <div key={key} className={isWide === true ? 'wide' : ''} data-derived={key}>
            <dt>
              <button type="button" className="how-open" onClick={() => open(key)} aria-label={how.open(labelOf(key))}>
                <ChannelName text={labelOf(key)} />
              </button>
            </dt>
            {value === undefined ? (
              <dd>
                <div className="value off">{DASH}</div>
                {blank !== undefined && (
                  <div className="reason">
                    <ChannelName text={blankWords[blank]} />
                  </div>
                )}
              </dd>
            ) : (
              <dd>
                <div className="value">
                  {withHalf === true && half !== undefined ? (
                    <WithHalf keyName={key} value={value} half={half} units={units} />
                  ) : (
                    `${formatValue(key, value, units)} `
                  )}
                  <span className="unit">{unit}</span>
                </div>
                {key === 'co2Percent' && derived?.co2Measured !== undefined && <Co2Measured measured={derived.co2Measured} units={units} />}
                {withHalf === true && restless !== undefined && (
                  <div className="reason">
                    <ChannelName text={restless} />
                  </div>
                )}
              </dd>
            )}
          </div>
        );
      })}
    </dl>
  );
}

/** What the instrument sends as CO2, and whether it fits O2 and the fuel within the uncertainty of both. */
function Co2Measured({
  measured: { percent, difference, expanded },
  units,
}: {
  measured: NonNullable<Derived['co2Measured']>;
  units: UnitSystem;
}) {
  const text = formatValue('co2', percent, units);
  if (Math.abs(difference) <= expanded) return <div className="reason">{live.derived.co2Agrees(text)}</div>;
  const by = formatValue('co2', Math.abs(difference), units);
  return <div className="reason notice-text">{live.derived.co2Differs(text, by, difference > 0)}</div>;
}

function WithHalf({ keyName, value, half, units }: { keyName: DerivedKey; value: number; half: number; units: UnitSystem }) {
  const text = formatWithHalf(keyName, { value, half }, units);
  return (
    <>
      {text.value} <span className="plus-minus">{text.half}</span>{' '}
    </>
  );
}
