/** What cannot be is refused by the host too, whoever sends it, in a sentence that says what can; an older record that has such a figure stays readable. */
import { expect, it } from 'vitest';
import { commands } from '../../../../shared/ipc/contract.ts';
import { plainRefusal } from '../../../../shared/plain-refusal.ts';
import { editVisit, newVisit, Visit } from '../../../../shared/tuning/visit/visit.ts';

const visit: Visit = {
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }),
  trials: [{ id: 't', runId: 'r', fromMs: 0, takenWallMs: 1, setting: { stage: '1', positions: [] }, notes: [] }],
};
const typed = (path: (string | number)[], after: unknown, at = visit): string => {
  const edited = editVisit(at, { path, after: after as never, wallMs: 1, by: 'operator' });
  return edited.ok ? 'taken' : `${edited.error.code}: ${edited.error.detail}`;
};
const room = (ppm: number) => [['roomCo', 0], { wallMs: 1, ppm }] as const;
const line = (quantity: string, high: number) =>
  [
    ['targetCard'],
    {
      id: 'c',
      name: 'Card',
      date: '2026',
      source: 'own',
      kind: 'own',
      decisionRule: 'simple',
      smokeRule: 'worst-spot',
      lines: [{ quantity, high, source: 'own' }],
    },
  ] as const;

it.each([
  [...room(-1), 'value-out-of-range: room co, 1, ppm: at least 0.'],
  [...room(1e300), 'value-out-of-range: room co, 1, ppm: at most 40000.'],
  [...room(NaN), 'value-out-of-range: room co, 1, ppm: a number.'],
  [['roomCo', '-'], { wallMs: 1, ppm: -5 }, 'value-out-of-range: room co, 1, ppm: at least 0.'],
  [['drafts', 0], { wallMs: 1, overFirePa: -5000, when: 'set' }, 'value-out-of-range: drafts, 1, over fire pa: at least -500.'],
  [['trials', 0, 'draft', 'breechPa'], 9000, 'value-out-of-range: trials, 1, draft, breech pa: at most 500.'],
  [['trials', 0, 'pumpPa'], -1, 'value-out-of-range: trials, 1, pump pa: at least 0.'],
  [['airTypedC'], 900, 'value-out-of-range: air typed c: at most 80.'],
  [['setUp', 'rows', 'nozzleAngleDeg'], { asFound: -60 }, 'value-out-of-range: set up, rows, nozzle angle deg, as found: at least 0.'],
  [['setUp', 'rows', 'nozzleFlowLh', 'asLeft'], 1e9, 'value-out-of-range: set up, rows, nozzle flow lh, as left: at most 2000.'],
  [
    ['setUp', 'rows', 'pumpPressurePa'],
    { maker: { nominal: -7 } },
    'value-out-of-range: set up, rows, pump pressure pa, maker, nominal: at least 0.',
  ],
  [...line('smokeNumber', 12), 'value-out-of-range: target card, lines, 1, high: at most 9.'],
  [...line('o2Percent', 40), 'value-out-of-range: target card, lines, 1, high: at most 21.'],
  [
    ['flueCoLimits'],
    { noticePpm: 100, alarmPpm: 9000 },
    'value-out-of-range: Type a reason for the higher limit: it goes into the report.',
  ],
  [['safety', 0], { test: 'x', result: 'pass', seconds: 1e9, wallMs: 1 }, 'value-out-of-range: safety, 1, seconds: at most 86400.'],
])('%j %j', (path, after, said) => {
  expect(typed([...path], after)).toBe(said);
});
it.each([
  [...room(0)],
  [...room(2400)],
  [['drafts', 0], { wallMs: 1, overFirePa: -5, breechPa: 12, when: 'set' }],
  [['setUp', 'rows', 'vacuumPa'], { asFound: -3000 }],
  [['setUp', 'rows', 'aheadOfNozzleMm'], { asFound: -1.5 }],
  [['flueCoLimits'], { noticePpm: 50, alarmPpm: 200 }],
  [['flueCoLimits'], { noticePpm: 100, alarmPpm: 900, reason: 'commissioning' }],
  [...line('smokeNumber', 1)],
])('is taken: %j %j', (path, after) => {
  expect(typed([...path], after)).toBe('taken');
});

it('a record of earlier with such a figure is read, and what stands beside it can still be changed', () => {
  const old = Visit.parse({ ...visit, roomCo: [{ wallMs: 1, ppm: -3 }] });
  expect(typed(['roomCo', 0], { wallMs: 1, ppm: -3, place: 'cellar' }, old)).toBe('taken');
  expect(typed(['roomCo', 0], { wallMs: 1, ppm: -4, place: 'cellar' }, old)).toContain('at least 0');
});

const sent = (name: 'run.mark' | 'run.typeValues' | 'visit.answerShift', input: unknown): string => {
  const read = commands[name].input.safeParse(input);
  return read.success ? 'taken' : plainRefusal(read.error);
};
it.each([
  ['run.mark', { body: { kind: 'draft', overFirePa: -5000 } }, 'body, over fire pa: at least -500.'],
  ['run.mark', { body: { kind: 'pressure', pumpPa: -1 } }, 'body, pump pa: at least 0.'],
  ['run.mark', { body: { kind: 'smoke', spots: [{ number: 9.5 }] } }, 'body, spots, 1, number: at most 9.'],
  [
    'run.mark',
    { body: { kind: 'adjustment', setting: { positions: [{ name: 'Shutter', value: 1e9 }] } } },
    'body, setting, positions, 1, value: at most 100000.',
  ],
  [
    'visit.answerShift',
    { questionId: 'q', setting: { positions: [{ name: 'Shutter', value: -1e9 }] } },
    'setting, positions, 1, value: at least -100000.',
  ],
  ['run.typeValues', { values: { o2: 50 } }, 'values, o2: at most 21.5.'],
  ['run.typeValues', { values: { stackTemperature: -300 } }, 'values, stack temperature: at least -40.'],
  ['run.typeValues', { values: { o2: 20.9, co: 12, stackTemperature: 240 } }, 'taken'],
  ['run.mark', { body: { kind: 'draft', overFirePa: -5, breechPa: -12 } }, 'taken'],
] as const)('%s %j', (name, input, said) => {
  expect(sent(name, { runId: 'r', ...input })).toBe(said);
});
