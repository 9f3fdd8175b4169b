import { describe, expect, it } from 'vitest';
import { exampleLimits } from '../../shared/bench/limits.ts';
import { fuelIds } from '../../shared/combustion/fuel.ts';
import { formulaTexts } from '../../shared/combustion/figures/formula-texts.ts';
import { makeReport } from '../../shared/report/make-report.ts';
import { exampleCards } from '../../shared/tuning/card/example-cards.ts';
import { reserveChoices } from '../../shared/tuning/curve/reserve.ts';
import { verifiedSource } from '../../shared/words/paper/page-one.ts';
import { inputOf, smallVisit } from '../shared/report/small-visit.ts';

const MEMORY = /from memory|not verified/i;

describe('law 9: what rests on memory decides nothing and is not printed as a source', () => {
  it('no limit on a card, on the bench or for the reserve', () => {
    const sources = [
      ...exampleCards.flatMap(({ source, lines }) => [source, ...lines.map((line) => line.source)]),
      ...exampleLimits.flatMap(({ lines }) => lines.map((line) => line.source)),
      ...reserveChoices.map(({ source }) => source),
    ];
    expect(sources.length).toBeGreaterThan(30);
    for (const source of sources) expect(source).not.toMatch(MEMORY);
  });
  it('no formula on paper names a source that was not read', () => {
    for (const { source } of Object.values(formulaTexts)) expect(verifiedSource(source)).not.toMatch(MEMORY);
  });
  it('no report, whatever the fuel and the card', () => {
    for (const fuelId of fuelIds)
      for (const card of [undefined, ...exampleCards]) {
        const text = JSON.stringify(makeReport(inputOf(smallVisit({ fuelId, ...(card === undefined ? {} : { targetCard: card }) }))));
        expect(text).not.toMatch(MEMORY);
      }
  });
});
