/** What stands on the set-up screen. It lives outside React, so that a bottle or an instrument can be typed in between, and it is carried from one test to the next. */
import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { ReferenceGas } from '../../../../shared/bench/instrument.ts';
import { examplePlans, type GasSlot } from '../../../../shared/bench/plan.ts';
import { practiceGases } from '../../../../shared/bench/practice.ts';
import { practiceScenarios } from '../../../../shared/bench/practice-scenarios.ts';
import type { DecisionRule } from '../../../../shared/measurement/decision-rule.ts';

export type SetUpDraft = {
  /** run -> instrument; 'practice' for one that is only simulated */
  readonly which: Readonly<Record<string, string>>;
  readonly offBench: readonly string[];
  readonly planName: string;
  /** slot -> bottle; 'practice' for one that only the simulator has */
  readonly bottles: Readonly<Partial<Record<GasSlot, string>>>;
  readonly reasons: Readonly<Partial<Record<GasSlot, string>>>;
  readonly room: { readonly airC: string; readonly humidity: string; readonly pressure: string; readonly place: string };
  /** undefined: not said yet; the simulated inlet is dry */
  readonly dried: boolean | undefined;
  readonly person: string;
  readonly place: string;
  readonly limitsName: string;
  readonly rule: DecisionRule | '';
  readonly scenario: string;
  readonly seed: number;
};

export const emptyDraft = (technician: string): SetUpDraft => ({
  which: {},
  offBench: [],
  planName: examplePlans[0]?.name ?? '',
  bottles: {},
  reasons: {},
  room: { airC: '', humidity: '', pressure: '', place: '' },
  dried: undefined,
  person: technician,
  place: '',
  limitsName: '',
  rule: '',
  scenario: practiceScenarios[0],
  seed: 1,
});

type Bottles = readonly { readonly id: string; readonly body: ReferenceGas }[];
const sameBottle = (a: ReferenceGas, b: ReferenceGas): boolean => a.name === b.name && a.serial === b.serial;
const isPracticeBottle = (slot: GasSlot, gas: ReferenceGas): boolean => slot !== 'air' && practiceGases[slot].serial === gas.serial;

/**
 * The set-up of the next instrument: plan, bottles, limits, rule and people as in the test before it. The room and the reasons for a doubtful bottle
 * hold for the day; which instrument is on which source is asked every time, because that is what changes.
 */
export function draftAfter(
  test: BenchTest,
  { gases, today, dayOf, seed }: { gases: Bottles; today: string; dayOf: (test: BenchTest) => string; seed: number },
): SetUpDraft {
  const sameDay = dayOf(test) === today;
  const { room } = test;
  const text = (value: number | undefined): string => (value === undefined ? '' : String(value));
  return {
    ...emptyDraft(test.person ?? ''),
    planName: test.plan.name,
    bottles: Object.fromEntries(
      test.gases.flatMap(({ slot, gas }) => {
        const known = gases.find(({ body }) => sameBottle(body, gas));
        return known !== undefined ? [[slot, known.id]] : isPracticeBottle(slot, gas) ? [[slot, 'practice']] : [];
      }),
    ),
    reasons: sameDay ? Object.fromEntries(test.gases.flatMap(({ slot, reason }) => (reason === undefined ? [] : [[slot, reason]]))) : {},
    room: sameDay
      ? {
          airC: text(room.airC),
          humidity: text(room.relativeHumidityPercent),
          pressure: text(room.pressurePa === undefined ? undefined : Math.round(room.pressurePa) / 100),
          place: room.place ?? '',
        }
      : { airC: '', humidity: '', pressure: '', place: room.place ?? '' },
    dried: room.dried,
    place: test.bench ?? '',
    limitsName: test.limits?.name ?? 'none',
    rule: test.limits?.decisionRule ?? '',
    seed,
  };
}
