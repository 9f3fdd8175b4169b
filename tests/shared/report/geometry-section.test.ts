/** What the technical record says of electrodes, nozzle and head beside its table: nothing that the visit contradicts. */
import { describe, expect, it } from 'vitest';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { geometrySection } from '../../../shared/report/record/geometry.ts';
import { SetUpSheet } from '../../../shared/tuning/set-up/set-up-sheet.ts';
import { smallVisit } from './small-visit.ts';

const texts = (geometry: object): string => {
  const setUp = SetUpSheet.parse({
    lengthUnit: 'inch',
    rows: {},
    geometry: { card: trainingCards[1], tubeEnd: 'straight', arrangement: 'two', ...geometry },
  });
  const section = geometrySection({ visit: { ...smallVisit(), setUp }, input: {} } as Parameters<typeof geometrySection>[0]);
  return (section?.blocks ?? []).flatMap((block) => (block.kind === 'text' ? [block.text] : [])).join('\n');
};
const height = { asFound: '7/16', asLeft: '1/2', foundMs: 20, leftMs: 30 };

describe('the technical record', () => {
  it('says that what depends on a moved part was measured again only where it was', () => {
    expect(texts({ rows: { heightAboveCentreline: height, electrodeGap: { asFound: '7/64', foundMs: 10 } } })).toContain(
      'Parts were moved; one figure that depends on them was not measured again.',
    );
    expect(
      texts({ rows: { heightAboveCentreline: height, electrodeGap: { asFound: '7/64', asLeft: '7/64', foundMs: 10, leftMs: 40 } } }),
    ).toContain('Parts were moved; what depends on them was measured again.');
  });
  it('names where the photos are, and the proof of the true-size sheet', () => {
    const said = texts({
      rows: { electrodeGap: { asFound: '7/64' } },
      photos: 'phone, 10:40',
      trueSize: { barMm: 152, paper: 'letter', wallMs: 1 },
    });
    expect(said).toContain('Photos before anything was moved: phone, 10:40.');
    expect(said).toContain('True-size sheet proven on Letter: the bar of 152.4\u2009mm measured 152\u2009mm.');
    expect(texts({ rows: { electrodeGap: { asFound: '7/64' } } })).not.toMatch(/Photos|True-size/);
  });
});
