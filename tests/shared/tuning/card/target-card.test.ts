import { describe, expect, it } from 'vitest';
import { exampleCards } from '../../../../shared/tuning/card/example-cards.ts';
import { TargetCard, copyCard, judge, judgeCard, overallVerdict, type CardLine } from '../../../../shared/tuning/card/target-card.ts';
import { cardHeadline, verdictNote } from '../../../../shared/words/visit/target-card.ts';

describe('decision rules', () => {
  // Worked example: O2 4.00 % gas, U = 0.10 (k = 2), limit 0.3: guarded limit 0.20; JCGM 106 and ISO 14253-1 (from memory)
  const gas: CardLine = { quantity: 'o2Percent', low: 3.7, high: 4.3, source: 'worked example' };
  it.each([
    { reading: 4.25, verdict: 'too-close' },
    { reading: 4.19, verdict: 'pass' },
    { reading: 3.75, verdict: 'too-close' },
    { reading: 4.31, verdict: 'fail' },
    { reading: 4.2, verdict: 'pass' },
  ])('guarded acceptance: $reading is $verdict', ({ reading, verdict }) => {
    expect(judge(gas, { value: reading, expanded: 0.1 }, 'guarded-acceptance').verdict).toBe(verdict);
  });
  it('guarded rejection takes the uncertainty off the reading (1st BImSchV, Annex 2 no. 2.3): 11.4 ± 0.5 against 11 passes, 11.6 ± 0.5 fails', () => {
    const loss: CardLine = { quantity: 'siegertLossPercent', high: 11, source: '1st BImSchV, section 10' };
    expect(judge(loss, { value: 11.4, expanded: 0.5 }, 'guarded-rejection').verdict).toBe('pass');
    expect(judge(loss, { value: 11.6, expanded: 0.5 }, 'guarded-rejection').verdict).toBe('fail');
  });
  it('simple: the value decides, and a limit inside the uncertainty is said', () => {
    expect(judge(gas, { value: 4.25, expanded: 0.1 }, 'simple')).toMatchObject({ verdict: 'pass', withinUncertainty: true });
    expect(judge(gas, { value: 4.0, expanded: 0.1 }, 'simple')).toMatchObject({ verdict: 'pass', withinUncertainty: false });
    expect(judge(gas, { value: 4.35, expanded: 0.1 }, 'simple')).toMatchObject({ verdict: 'fail', withinUncertainty: true });
  });
  it.each([
    [4.25, 'Passes, but closer to the limit than its uncertainty.'],
    [4.35, 'Fails, by less than its uncertainty.'],
    [4.5, undefined],
    [4.0, undefined],
  ])('simple: %s ±0.1 against 4.3 never says that it passes where it fails', (value, note) => {
    expect(verdictNote(judge(gas, { value, expanded: 0.1 }, 'simple'))).toBe(note);
  });
  it('a guarded rule without an uncertainty gives no verdict where it would need one', () => {
    expect(judge(gas, { value: 4 }, 'guarded-acceptance').verdict).toBe('not-known');
    expect(judge(gas, { value: 4.4 }, 'guarded-acceptance').verdict).toBe('fail');
    expect(judge(gas, { value: 4.4 }, 'guarded-rejection').verdict).toBe('not-known');
    expect(judge(gas, undefined, 'simple').verdict).toBe('not-known');
  });
  it('"below 50" leaves 50 out, "50 at most" does not', () => {
    expect(judge({ quantity: 'coPpm', high: 50, highExcluded: true, source: 's' }, { value: 50 }, 'simple').verdict).toBe('fail');
    expect(judge({ quantity: 'coPpm', high: 50, source: 's' }, { value: 50 }, 'simple').verdict).toBe('pass');
  });
});

describe('the card as a whole', () => {
  const o2 = { quantity: 'o2Percent', low: 4, source: 's' } as const;
  const co = { quantity: 'coPpm', high: 50, source: 's' } as const;
  const smoke = { quantity: 'smokeNumber', high: 1, source: 's' } as const;
  const said = (rule: Parameters<typeof judge>[2], ...lines: [CardLine, Parameters<typeof judge>[1]][]): string => {
    const verdicts = lines.map(([line, figure]) => judge(line, figure, rule));
    return cardHeadline(overallVerdict(verdicts), verdicts);
  };
  it('names the lines that fail, and no other', () => {
    expect(said('simple', [o2, { value: 3 }], [co, { value: 20 }], [smoke, undefined])).toBe('O2 fails');
    expect(said('simple', [o2, { value: 3 }], [co, { value: 60 }], [smoke, { value: 0 }])).toBe('O2 and CO fail');
  });
  it('names what keeps it from passing', () => {
    expect(said('simple', [o2, { value: 5 }], [smoke, undefined])).toBe('Smoke is not known');
    expect(said('guarded-acceptance', [o2, { value: 4.1, expanded: 0.3 }], [co, { value: 20, expanded: 3 }])).toBe(
      'O2 is too close to call',
    );
  });
  it('says how many limits are met', () => {
    expect(said('simple', [o2, { value: 5 }], [co, { value: 20 }])).toBe('All 2 limits are met');
    expect(said('simple', [o2, { value: 5 }])).toBe('The limit is met');
  });
});

describe('cards', () => {
  it('judges every line, also after a failure, and prints the basis of each', () => {
    const card = exampleCards.find(({ id }) => id === 'example-minnesota')!;
    const verdicts = judgeCard(card, { o2Percent: { value: 12 }, smokeNumber: { value: 1 }, coPpm: { value: 20 } });
    expect(verdicts).toHaveLength(card.lines.length);
    expect(verdicts.map(({ verdict }) => verdict)).toEqual(['fail', 'not-known', 'pass', 'pass', 'not-known', 'not-known']);
    expect(verdicts[3]!.basis).toBe('dry, as measured');
    expect(overallVerdict(verdicts)).toBe('fail');
  });
  it('passes as a whole only when every line does', () => {
    const line = { quantity: 'o2Percent', high: 6, source: 's' } as const;
    const of = (values: (number | undefined)[]) =>
      overallVerdict(values.map((value) => judge(line, value === undefined ? undefined : { value, expanded: 0.3 }, 'guarded-acceptance')));
    expect([of([5]), of([5, 5.9]), of([5, 5.9, undefined]), of([5.9, 7]), of([])]).toEqual([
      'pass',
      'too-close',
      'not-known',
      'fail',
      'not-known',
    ]);
  });
  it('ships valid examples, each line with its source, each marked as an example', () => {
    for (const card of exampleCards) {
      expect(TargetCard.safeParse(card).success, card.id).toBe(true);
      expect(card.example).toBe(true);
    }
    expect(new Set(exampleCards.map(({ id }) => id)).size).toBe(exampleCards.length);
  });
  it('holds the published figures', () => {
    const line = (id: string, quantity: string) =>
      exampleCards.find((card) => card.id === id)!.lines.find((each) => each.quantity === quantity)!;
    // NORA p 141: -0.01 to -0.02 in w.c. is -2.5 to -5 Pa; Minnesota Rules 1346.1605: 700 degF over ambient is 389 K
    expect(line('example-training-retention', 'overFirePa').low).toBeCloseTo(-4.98, 2);
    expect(line('example-minnesota', 'netStackK').high).toBeCloseTo(388.9, 1);
    expect(line('example-training-retention', 'stackC').high).toBeCloseTo(232.2, 1);
    expect(line('example-germany-25', 'siegertLossPercent').high).toBe(11);
  });
  it('copies an example into an own card', () => {
    const copy = copyCard(exampleCards[0]!, { id: 'mine', name: 'Ours', date: '2026-11-25' });
    expect(copy).toMatchObject({ id: 'mine', name: 'Ours', date: '2026-11-25' });
    expect('example' in copy).toBe(false);
  });
  it('refuses a line without a limit or with crossed limits', () => {
    const card = { ...exampleCards[0]!, lines: [{ quantity: 'o2Percent', source: 's' }] };
    expect(TargetCard.safeParse(card).success).toBe(false);
    expect(TargetCard.safeParse({ ...card, lines: [{ quantity: 'o2Percent', low: 6, high: 3, source: 's' }] }).success).toBe(false);
  });
});
