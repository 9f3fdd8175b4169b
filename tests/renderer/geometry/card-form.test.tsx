// @vitest-environment happy-dom
/** A figures card while it is typed: every field goes to its own place, and what is saved is what was typed. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { useState } from 'react';
import { afterEach, describe, expect, it } from 'vitest';
import {
  draftOf,
  emptyFigure,
  emptyFlowRow,
  forParts,
  newCard,
  readDraft,
  type CardDraft,
} from '../../../renderer/views/geometry/cards/card-draft.ts';
import { CardForm } from '../../../renderer/views/geometry/cards/CardForm.tsx';
import { geometryNames } from '../../../shared/words/geometry/geometry.ts';
import { cardScreen as words } from '../../../shared/words/geometry/geometry-cards.ts';
import type { FiguresCard } from '../../../shared/geometry/figures-card.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { button, field, press, typeInto } from '../helpers/in-window.tsx';

afterEach(cleanup);

let draft: CardDraft;
function Page({ card, readOnly }: { card: FiguresCard; readOnly: boolean }) {
  const [now, change] = useState(draftOf(card));
  draft = now;
  return <CardForm draft={now} problems={readDraft(now).problems} readOnly={readOnly} change={change} />;
}
const show = (card: FiguresCard = newCard(), readOnly = false): void => void render(<Page card={card} readOnly={readOnly} />);
const pick = (label: string, value: string): void => void fireEvent.change(screen.getByLabelText(label), { target: { value } });
const gap = geometryNames.electrodeGap;

describe('a new card', () => {
  it('is saved once it has a name and a document, with each field in its place and no empty ones', () => {
    show();
    expect(readDraft(draft).card).toBeUndefined();
    typeInto(words.name, 'Burner 7');
    typeInto(words.document, 'Sheet 12');
    typeInto(words.edition, '3');
    typeInto(words.page, '4');
    typeInto(words.typedBy, ' ');
    pick(words.unit, 'mm');
    fireEvent.click(screen.getByLabelText(words.tubeEndNames.conical));
    typeInto(words.headsField, ' No. 2 \n\nNo. 3');
    const { card, problems } = readDraft(draft);
    expect(problems).toEqual([]);
    expect(card).toMatchObject({
      name: 'Burner 7',
      source: { document: 'Sheet 12', edition: '3', page: '4' },
      lengthUnit: 'mm',
      tubeEnds: ['conical'],
      heads: ['No. 2', 'No. 3'],
      figures: [],
    });
    expect(card?.source).not.toHaveProperty('typedBy');
    expect(card?.byFlow).toBeUndefined();
    fireEvent.click(screen.getByLabelText(words.tubeEndNames.conical));
    expect(draft.card.tubeEnds).toEqual([]);
  });
  it('is of the tube ends and arrangements that are ticked, and of those only', () => {
    show();
    const tick = (label: string): void => void fireEvent.click(screen.getByLabelText(label));
    tick(words.arrangementNames.one);
    tick(words.arrangementNames.two);
    tick(words.tubeEndNames.straight);
    expect([draft.card.arrangements, draft.card.tubeEnds]).toEqual([['one', 'two'], ['straight']]);
    tick(words.arrangementNames.one);
    tick(words.tubeEndNames.straight);
    expect([draft.card.arrangements, draft.card.tubeEnds]).toEqual([['two'], []]);
  });
  it('one that may only be read takes nothing', () => {
    show(newCard(), true);
    const before = draft;
    for (const label of [...Object.values(words.arrangementNames), ...Object.values(words.tubeEndNames)])
      fireEvent.click(screen.getByLabelText(label));
    pick(words.unit, 'mm');
    pick(words.adjuster, 'two');
    expect(draft).toBe(before);
  });
  it('an adjuster has a zero mark, and its fine notches only when it goes in two steps', () => {
    show();
    expect(screen.queryByLabelText(words.zeroMark)).toBeNull();
    pick(words.adjuster, 'one');
    typeInto(words.zeroMark, '0');
    expect(screen.queryByLabelText(words.fineNotches)).toBeNull();
    pick(words.adjuster, 'two');
    typeInto(words.fineNotches, '8 notches');
    expect(draft.card.adjuster).toEqual({ steps: 'two', zeroMark: '0', fineNotches: 8 });
    typeInto(words.fineNotches, '0');
    typeInto(words.zeroMark, '');
    expect(draft.card.adjuster).toEqual({ steps: 'two', zeroMark: undefined, fineNotches: undefined });
    pick(words.adjuster, '');
    expect(draft.card.adjuster).toBeUndefined();
  });
});

describe('figures', () => {
  it('a row is added for the next part that has none, typed cell by cell, and taken out alone', () => {
    show();
    press(words.addFigure);
    press(words.addFigure);
    expect(draft.figures.map(({ item }) => item)).toEqual(['electrodeGap', 'heightAboveCentreline']);
    for (const [part, text] of Object.entries({ nominal: '1/8', tolerance: '1/32' }))
      typeInto(`${gap}, ${words.columns[part as 'nominal']}`, text);
    typeInto(`${geometryNames.heightAboveCentreline}, ${words.columns.low}`, '7/16');
    typeInto(`${geometryNames.heightAboveCentreline}, ${words.columns.high}`, '1/2');
    expect(draft.figures).toEqual([
      { ...emptyFigure('electrodeGap'), nominal: '1/8', tolerance: '1/32' },
      { ...emptyFigure('heightAboveCentreline'), low: '7/16', high: '1/2' },
    ]);
    fireEvent.change(screen.getAllByLabelText(words.columns.item)[1]!, { target: { value: 'aheadOfNozzle' } });
    expect(draft.figures.map(({ item }) => item)).toEqual(['electrodeGap', 'aheadOfNozzle']);
    press(`${words.removeRow}: ${gap}`);
    expect(draft.figures.map(({ item }) => item)).toEqual(['aheadOfNozzle']);
  });
  it('hold for a head, a tube end or an arrangement of this card, or for every burner', () => {
    const card: FiguresCard = {
      ...newCard(),
      name: 'A',
      source: { document: 'B' },
      heads: ['No. 2'],
      tubeEnds: ['conical'],
      arrangements: ['two'],
    };
    show({ ...card, figures: [{ item: 'electrodeGap', figure: { nominal: '1/8', tolerance: '1/32' } }] });
    const choice = screen.getByLabelText<HTMLSelectElement>(`${gap}, ${words.columns.for}`);
    expect([...choice.options].map(({ text }) => text)).toEqual([
      words.everyBurner,
      words.tubeEndNames.conical,
      words.arrangementNames.two,
      'No. 2',
    ]);
    for (const [value, holds] of [
      ['head No. 2', { head: 'No. 2' }],
      ['tubeEnd conical', { tubeEnd: 'conical' }],
      ['', undefined],
    ] as const) {
      fireEvent.change(choice, { target: { value } });
      expect(readDraft(draft).card?.figures[0]?.for).toEqual(holds);
    }
  });
  it('two conditions together are kept, and read as both', () => {
    const both: FiguresCard = {
      ...newCard(),
      name: 'A',
      source: { document: 'B' },
      heads: ['No. 2'],
      tubeEnds: ['conical'],
      figures: [{ item: 'electrodeGap', figure: { low: '1/8' }, for: { head: 'No. 2', tubeEnd: 'conical' } }],
    };
    show(both);
    const choice = screen.getByLabelText<HTMLSelectElement>(`${gap}, ${words.columns.for}`);
    expect(choice.selectedOptions[0]?.text).toBe(`No. 2, ${words.tubeEnds.conical} tube end`);
    expect(readDraft(draft).card?.figures[0]?.for).toEqual(both.figures[0]?.for);
    expect(forParts('')).toEqual([]);
  });
  it('one that contradicts itself is marked, and no other', () => {
    show({
      ...newCard(),
      name: 'A',
      source: { document: 'B' },
      figures: [
        { item: 'electrodeGap', figure: { low: '1/4', high: '1/8' } },
        { item: 'tipToMetal', figure: { low: '1/4' } },
      ],
    });
    const isWrong = (label: string): boolean => screen.getByLabelText(label).closest('.field')!.classList.contains('wrong');
    expect(isWrong(`${gap}, ${words.columns.low}`)).toBe(true);
    expect(isWrong(`${geometryNames.tipToMetal}, ${words.columns.low}`)).toBe(false);
  });
});

describe('the flow table', () => {
  const at = (row: number, key: keyof typeof words.flowColumns): string => `${words.byFlow} ${row}, ${words.flowColumns[key]}`;
  it('has rows that are typed, added and taken out, a unit and tolerances', () => {
    show({ ...newCard(), name: 'A', source: { document: 'B' } });
    press(words.addRow);
    press(words.addRow);
    typeInto(at(1, 'from'), ' 0.5 ');
    typeInto(at(1, 'to'), '0.75');
    typeInto(at(1, 'headSetting'), '2');
    typeInto(at(2, 'from'), '1');
    typeInto(`${words.flowColumns.headSetting}, ${words.plusMinus}`, '0.25');
    pick(words.flowUnit, 'l/h');
    // a row of one flow is from it to it; what is empty is left out
    expect(readDraft(draft).card?.byFlow).toEqual({
      unit: 'l/h',
      rows: [
        { from: '0.5', to: '0.75', headSetting: '2' },
        { from: '1', to: '1' },
      ],
      tolerance: { headSetting: '0.25' },
    });
    press(`${words.removeRow}: 1`);
    expect(draft.rows).toEqual([{ ...emptyFlowRow(), from: '1' }]);
  });
  it('a row without a flow is said as wrong, not lost; one that is empty is none', () => {
    show({ ...newCard(), name: 'A', source: { document: 'B' } });
    press(words.addRow);
    expect(readDraft(draft).card?.byFlow).toBeUndefined();
    typeInto(at(1, 'shutterStart'), '3');
    expect(readDraft(draft).problems.map(({ key }) => key)).toContain('flow-unreadable');
    expect(document.querySelectorAll('.bad-row')).toHaveLength(1);
  });
});

describe('a card that may only be looked at', () => {
  it('has no button that changes it, and its fields cannot be typed in', () => {
    show(trainingCards[1], true);
    expect(screen.queryAllByRole('button')).toEqual([]);
    const inputs = [...document.querySelectorAll<HTMLInputElement>('.card-form-left .field input')];
    expect(inputs.length).toBeGreaterThan(5);
    // its tables are text: every figure of the card, the tolerances of the flow table too
    expect(document.querySelectorAll('.card-figures input, .card-figures select')).toHaveLength(0);
    const shown = [...document.querySelectorAll('.card-figures td')].map(({ textContent }) => textContent);
    const { figures = [], byFlow } = trainingCards[1] ?? {};
    for (const { item, figure } of figures) expect(shown).toEqual(expect.arrayContaining([geometryNames[item], ...Object.values(figure)]));
    expect(shown).toEqual(expect.arrayContaining(Object.values(byFlow?.tolerance ?? {})));
    expect(inputs.every(({ disabled }) => disabled)).toBe(true);
    const before = draft;
    pick(words.unit, 'mm');
    pick(words.flowUnit, 'l/h');
    fireEvent.click(screen.getByLabelText(words.tubeEndNames.conical));
    expect(draft).toBe(before);
  });
  it('is what it was when it is read back', () => {
    for (const card of trainingCards) {
      show(card);
      expect(readDraft(draft)).toEqual({ card, problems: [] });
      expect(button(words.addRow)).toBeDefined();
      expect(field(words.name).value).toBe(card.name);
      cleanup();
    }
  });
});

describe('what contradicts itself is marked in the field where it stands', () => {
  const wrong = (): string[] => [...document.querySelectorAll('.field.wrong input')].map((one) => one.getAttribute('aria-label') ?? '');
  const flow = (row: number, column: keyof typeof words.flowColumns): string => `${words.byFlow} ${row}, ${words.flowColumns[column]}`;
  const named = (): void => {
    show();
    typeInto(words.name, 'Burner 7');
    typeInto(words.document, 'Sheet 12');
  };

  it('a setting by flow that cannot be read, and a tolerance of it', () => {
    named();
    press(words.addRow);
    typeInto(flow(1, 'from'), '0.5');
    typeInto(flow(1, 'to'), '0.6');
    typeInto(flow(1, 'headSetting'), 'two');
    expect(wrong()).toEqual([flow(1, 'headSetting')]);
    typeInto(flow(1, 'headSetting'), '2');
    expect(wrong()).toEqual([]);
    typeInto(`${words.flowColumns.headSetting}, ${words.plusMinus}`, 'some');
    expect(wrong()).toContain(`${words.flowColumns.headSetting}, ${words.plusMinus}`);
  });

  it('a row below an empty one is called by its own number', () => {
    named();
    press(words.addRow);
    press(words.addRow);
    typeInto(flow(2, 'from'), '0.6');
    typeInto(flow(2, 'to'), '0.5');
    expect(readDraft(draft).problems).toMatchObject([{ key: 'flow-swapped', row: 1 }]);
    expect(wrong()).toContain(flow(2, 'from'));
    expect(wrong()).not.toContain(flow(1, 'from'));
  });
});
