// @vitest-environment happy-dom
/** The target card on the screen of as-left: which one counts and by which rule, what it says line by line, and that a person chooses it. */
import { cleanup } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { CardChooser } from '../../../../renderer/views/visit/card/CardChooser.tsx';
import { CardHead, CardTable } from '../../../../renderer/views/visit/card/CardTable.tsx';
import { exampleCards } from '../../../../shared/tuning/card/example-cards.ts';
import { judgeCard, type CardFigures, type TargetCard } from '../../../../shared/tuning/card/target-card.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';
import { verdictWords } from '../../../../shared/words/visit/target-card.ts';
import { button, inWindow, oilVisit, press, rowsOf, settled } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const card: TargetCard = {
  id: 'c',
  name: 'Workshop',
  date: '2026-02',
  source: 'own',
  kind: 'own',
  decisionRule: 'simple',
  smokeRule: 'worst-spot',
  lines: [
    { quantity: 'o2Percent', low: 3, high: 6, source: 'sheet p 12', appliesTo: 'retention head' },
    { quantity: 'coPpm', high: 50, highExcluded: true, source: 'sheet' },
    { quantity: 'oilTrace', high: 0, source: 'sheet' },
    { quantity: 'smokeNumber', high: 1, source: 'sheet' },
  ],
};
const figures: CardFigures = { o2Percent: { value: 5, expanded: 0.3 }, coPpm: { value: 50, expanded: 5 }, oilTrace: { value: 0 } };
const verdicts = judgeCard(card, figures);

describe('its head', () => {
  const opened: string[] = [];
  function head(visit: Partial<Visit>, judged: typeof verdicts = [], role: 'operator' | 'viewer' = 'operator') {
    opened.length = 0;
    return inWindow(<CardHead verdicts={judged} open={(what) => opened.push(what)} />, { visit: oilVisit(visit), role });
  }
  const names = (): string[] => [...document.querySelectorAll('button')].map(({ textContent }) => textContent ?? '');

  it('without a card asks for one, or to go without', () => {
    const { edits, page } = head({});
    expect(page.textContent).toContain(words.noCard);
    expect(names()).toEqual([words.without, words.pick]);
    press(words.without);
    press(words.pick);
    expect(edits).toEqual([{ path: ['withoutCard'], after: true }]);
    expect(opened).toEqual(['choose']);
  });
  it('says that it was chosen to go without, and lets one be chosen after all', () => {
    const { page } = head({ withoutCard: true });
    expect(page.textContent).toContain(words.withoutSaid);
    expect(names()).toEqual([words.takeBack]);
  });
  it('says the card, its date, its rule, and what it says over all', () => {
    const { page } = head({ targetCard: card }, verdicts);
    expect(page.querySelector('h2')?.textContent).toContain(verdictWords.fail);
    expect(page.textContent).toContain(words.ofCard('Workshop', '2026-02'));
    expect(names()).toEqual([words.edit, words.pick]);
    press(words.edit);
    expect(opened).toEqual(['edit']);
    cleanup();
    expect(head({ targetCard: card }).page.querySelector('h2')?.textContent).toBe(words.card);
  });
  it('a window that may only look changes nothing of it', () => {
    head({}, [], 'viewer');
    for (const name of [words.without, words.pick]) expect(button(name).disabled, name).toBe(true);
    cleanup();
    head({ targetCard: card }, verdicts, 'viewer');
    for (const name of [words.edit, words.pick]) expect(button(name).disabled, name).toBe(true);
  });
});

it('every line has its figure, its limit and where that is from, and its verdict', () => {
  inWindow(<CardTable verdicts={verdicts} units="us" />, { visit: oilVisit() });
  const [columns, o2, co, oil, smoke] = rowsOf(words.card);
  expect(columns).toEqual([words.columns.line, words.columns.value, words.columns.limit, words.columns.scale, words.columns.verdict]);
  expect(o2?.[0]).toMatch(/^O2.*dry$/);
  expect(o2?.[1]).toMatch(/^5\.0 ±0\.3 %$/);
  expect(o2?.[2]).toMatch(/3.*6.*%.*sheet p 12; retention head$/);
  expect([o2, co, oil, smoke].map((row) => row?.at(-1)?.split(/(?<=[a-z])(?=[A-Z])/)[0])).toEqual([
    expect.stringContaining(verdictWords.pass),
    // below 50 is asked for, 50 is measured
    expect.stringContaining(verdictWords.fail),
    expect.stringContaining(verdictWords.pass),
    expect.stringContaining(verdictWords['not-known']),
  ]);
  expect(smoke?.[1]).toBe('–');
  // a scale where there is a figure on one
  const scales = [...document.querySelectorAll('tbody tr')].map((row) => row.querySelectorAll('td:nth-child(4) svg').length > 0);
  expect(scales).toEqual([true, true, false, false]);
});

describe('choosing one', () => {
  async function open(documents: unknown[]) {
    let closed = 0;
    const made = inWindow(
      <CardChooser close={() => (closed += 1)} />,
      { visit: oilVisit({ id: 'v9' }) },
      { 'document.list': { documents: documents.map((body, at) => ({ id: `d${at}`, body })) } },
    );
    await settled();
    return { ...made, closed: () => closed };
  }
  it('an own card is used as it is; what is no card is left out', async () => {
    const { edits, closed, page } = await open([card, { name: 'torn' }]);
    expect(page.textContent).toContain('own · 2026-02 · Decision rule');
    press(`${words.useCard}: Workshop`);
    expect(edits).toEqual([{ path: ['targetCard'], after: card }, { path: ['withoutCard'] }, { path: ['smokeRule'], after: 'worst-spot' }]);
    expect(closed()).toBe(1);
  });
  it('an example is copied, with the day of the copy, and is an example no more', async () => {
    const { edits, page } = await open([]);
    expect(page.textContent).not.toContain(words.own);
    const [example] = exampleCards;
    press(`${words.useCopy}: ${example!.name}`);
    const { example: _, ...rest } = example!;
    expect(edits[0]).toEqual({ path: ['targetCard'], after: { ...rest, id: 'card-of-v9', date: '1970-01-01' } });
    expect(edits[2]).toEqual({ path: ['smokeRule'], after: example!.smokeRule });
  });
});
