/** The target card: its quantities, rules and verdicts. */
import type { DecisionRule } from '../../measurement/decision-rule.ts';
import { joined } from '../paper/page-one.ts';
import type { CardQuantity, CardVerdict, LineVerdict } from '../../tuning/card/target-card.ts';

export const quantityWords: Readonly<Record<CardQuantity, string>> = {
  o2Percent: 'O2',
  co2Percent: 'CO2',
  excessAirPercent: 'Excess air',
  coPpm: 'CO',
  coAirFreePpm: 'CO air-free',
  coAt3PercentO2Ppm: 'CO at 3 % O2',
  coMgPerKwh: 'CO per fuel energy',
  smokeNumber: 'Smoke',
  oilTrace: 'Oil on the paper',
  stackC: 'Stack, gross',
  netStackK: 'Net stack',
  efficiencyHhvPercent: 'Efficiency, HHV',
  efficiencyLhvPercent: 'Efficiency, LHV',
  siegertLossPercent: 'Flue-gas loss, Siegert',
  overFirePa: 'Draft over the fire',
  breechPa: 'Draft at the breech',
  draftDropPa: 'Draft drop',
  reserveO2Percent: 'Reserve air',
  roomCoPpm: 'Room CO',
};
export const verdictWords: Readonly<Record<CardVerdict, string>> = {
  pass: 'pass',
  fail: 'fail',
  'too-close': 'too close to call',
  'not-known': 'not known',
};
/** The card as a whole: the lines that made the verdict by name, or that every line passes. */
export function cardHeadline(overall: CardVerdict, lines: readonly LineVerdict[]): string {
  const { length } = lines;
  if (overall === 'pass') return length === 1 ? 'The limit is met' : `All ${length} limits are met`;
  const names = [...new Set(lines.filter(({ verdict }) => verdict === overall).map(({ line }) => quantityWords[line.quantity]))];
  const verb = {
    fail: ['fails', 'fail'],
    'too-close': ['is too close to call', 'are too close to call'],
    'not-known': ['is not known', 'are not known'],
  }[overall];
  return `${joined(names)} ${names.length === 1 ? verb[0] : verb[1]}`;
}
export const decisionRuleWords: Readonly<Record<DecisionRule, { name: string; about: string }>> = {
  simple: { name: 'Simple', about: 'The value itself is compared with the limit.' },
  'guarded-acceptance': {
    name: 'Guarded acceptance',
    about: 'Passes only when the value is inside the limit by more than its uncertainty. Nearer to the limit it is too close to call.',
  },
  'guarded-rejection': { name: 'Guarded rejection', about: 'Fails only when the value is outside the limit by more than its uncertainty.' },
};
export const verdictNote = (line: LineVerdict): string | undefined =>
  line.verdict === 'not-known'
    ? line.figure
      ? 'Its uncertainty is not known.'
      : 'Not measured.'
    : line.withinUncertainty && line.verdict !== 'too-close'
      ? line.verdict === 'fail'
        ? 'Fails, by less than its uncertainty.'
        : 'Passes, but closer to the limit than its uncertainty.'
      : undefined;
