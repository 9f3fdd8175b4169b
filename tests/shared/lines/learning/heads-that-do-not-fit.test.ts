/** A head that names columns is never passed over in silence: what the values look like may be what it denies. Values are invented. */
import { describe, expect, it } from 'vitest';
import { judgeLines } from '../../../../shared/pipeline/propose.ts';
import { linesOf } from '../score-field.ts';

/** A quiet flue: 4.5 % of O2, 38 ppm of a gas, a stack at 210 and air at 21 degrees. */
function rowAt(at: number): string[] {
  const turn = Math.sin(at / 3);
  return [
    `10:0${Math.floor(at / 60)}:${String(at % 60).padStart(2, '0')}`,
    (4.5 + turn * 0.1).toFixed(1),
    String(38 + Math.round(turn * 3)),
    (210 + turn).toFixed(1),
    (21 + turn / 5).toFixed(1),
  ];
}
function judged(head: string, delimiter: string): string {
  const text = [head, ...Array.from({ length: 120 }, (_, at) => rowAt(at).join(delimiter)), ''].join('\n');
  const judgement = judgeLines(linesOf(new TextEncoder().encode(text)).map(({ line }) => line));
  if (judgement.kind !== 'adopt') return judgement.kind;
  return judgement.proposal.recipe.fields.map((field) => ('channel' in field ? field.channel : '')).join(' ');
}

describe('a head of names', () => {
  it.each([
    ['fits', 'Time,O2,CO,T flue,T air', ',', /^o2 co stackTemperature airTemperature$/],
    ['fits and says NO', 'Time,O2,NO,T flue,T air', ',', /^o2 stackTemperature airTemperature no$/],
    [
      'has commas in brackets, and says CO',
      'Time,O2 (%, dry),CO (ppm, dry),T flue (C),T air (C)',
      ',',
      /^o2 co stackTemperature airTemperature$/,
    ],
    [
      'has commas in brackets, and says NO',
      'Time,O2 (dry, %),NO (ppm, dry),T flue (C),T air (C)',
      ',',
      /^o2 stackTemperature airTemperature no$/,
    ],
    [
      'has semicolons in square brackets',
      'Time;O2 [%; dry];NO [ppm; dry];T flue [C];T air [C]',
      ';',
      /^o2 stackTemperature airTemperature no$/,
    ],
    ['a bracket that is never closed', 'Time,O2 (%, dry,NO,T flue,T air', ',', /^ask$/],
    ['has commas outside brackets', 'Time,O2, dry,NO, as measured,T flue,T air', ',', /^ask$/],
    ['names more than there are', 'Time\tO2\tNO\tpump\tfan\tT flue\tT air', '\t', /^ask$/],
  ])('%s', (_, head, delimiter, expected) => expect(judged(head, delimiter)).toMatch(expected));
  it('missing: the values alone tell, as in a plain table of one instrument', () => {
    expect(judged('started', ',')).toBe('o2 co stackTemperature airTemperature');
  });
});
