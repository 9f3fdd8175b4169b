import { describe, expect, it } from 'vitest';
import { problem } from '../../../shared/problem.ts';
import { sourceStateOf, tapeOf } from '../../../renderer/state/source-state.ts';
import { alertsOf } from '../../../renderer/state/top-alert.ts';
import { recordWith, stateOf } from '../helpers/records.ts';

const calm = { standing: [], answer: undefined };

describe('source bar', () => {
  it.each([
    ['none', undefined, 'none', false],
    ['learning', recordWith({}, { phase: 'learning' }), 'learning', false],
    ['connected', recordWith({}), 'connected', false],
    ['unplugged', recordWith({}, { phase: 'lost', problem: problem('port-lost') }), 'cut', true],
    ['silent', recordWith({ states: [stateOf('o2', 'silent'), stateOf('co', 'silent')] }), 'cut', true],
    ['typed', recordWith({}, { source: { kind: 'typed' } }), 'typed', false],
    [
      'simulated',
      recordWith({}, { source: { kind: 'simulated', scenario: 'tune-up', title: 'Tune-up', seed: 1, shape: 'columns' } }),
      'simulated',
      false,
    ],
    ['replayed', recordWith({}, { source: { kind: 'replay', runId: 'r', label: 'run of 14:03', of: 'serial' } }), 'replay', false],
  ])('%s', (_name, record, shape, alarm) => expect(sourceStateOf(record)).toMatchObject({ shape, alarm }));

  it('is not silent because one channel is', () => {
    expect(sourceStateOf(recordWith({ states: [stateOf('o2', 'silent'), stateOf('co', 'settled')] })).alarm).toBe(false);
  });
  it('marks everything that was not measured', () => {
    expect(tapeOf(recordWith({}))).toBeUndefined();
    expect(tapeOf(recordWith({}, { source: { kind: 'simulated', scenario: 's', title: 's', seed: 1, shape: 'columns' } }))).toContain(
      'not signed',
    );
    expect(tapeOf(recordWith({}, { source: { kind: 'replay', runId: 'r', label: 'x', of: 'serial' } }))).toBeDefined();
    expect(tapeOf(recordWith({}, { source: { kind: 'typed' } }))).toBeDefined();
  });
});

describe('alerts', () => {
  const standing = (code: 'disk-full' | 'recipe-unclear' | 'port-lost') => ({
    key: code,
    problem: problem(code),
    count: 1,
    sinceWallMs: 0,
  });
  it('put an alarm before every notice and cannot be closed while it holds', () => {
    const alerts = alertsOf(undefined, { standing: [standing('recipe-unclear'), standing('disk-full')], answer: undefined });
    expect(alerts.map(({ kind, dismiss }) => [kind, dismiss])).toEqual([
      ['alarm', undefined],
      ['notice', 'standing'],
    ]);
  });
  it('say an unplugged port once, with how long ago', () => {
    const lost = recordWith({}, { phase: 'lost', problem: problem('port-lost'), lostSinceMs: 46_000 });
    const alerts = alertsOf(lost, { standing: [standing('port-lost')], answer: undefined });
    expect(alerts).toHaveLength(1);
    expect(alerts[0]?.rest).toContain('USB serial 2');
  });
  it('say that a person has to look at the columns, with the way there', () => {
    const column = { at: 4, name: 'T2', unitText: 'degC', examples: ['21.2'], sureness: 'look' as const, evidence: [] };
    const asked = recordWith({}, { question: { columns: [column], hidden: 0 } });
    expect(alertsOf(asked, calm)[0]).toMatchObject({ key: 'question', opensLines: 'Look at the columns' });
  });
  it('show a refused command until it was seen', () => {
    expect(alertsOf(undefined, { standing: [], answer: { problem: problem('not-allowed'), count: 1 } })[0]).toMatchObject({
      kind: 'notice',
      dismiss: 'answer',
    });
  });
  it('are none when nothing is wrong', () => expect(alertsOf(recordWith({ states: [stateOf('o2', 'settled')] }), calm)).toEqual([]));
});
