/** Air for combustion and venting: what was looked at, and each worst-case test that was saved. */
import { judgeWorstCase, worstVerdict, type WorstLine } from '../../tuning/safety/venting.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { ventWords as words } from '../../words/visit/venting.ts';
import { worstFigure, worstLimit, worstUnit } from '../worst-figures.ts';
import type { Block, Cell, Section } from '../report-model.ts';
import { timesOf } from '../written.ts';
import type { Parts } from '../pages/page-parts.ts';
import { whenDefined } from '../../defined.ts';

export function ventingSection({ visit, units }: Parts): Section | undefined {
  const { venting } = visit;
  if (venting === undefined) return undefined;
  const times = timesOf(visit);
  const checks = venting.checks.map(({ item, result, note, wallMs }) =>
    [`${words.items[item]}: ${words.results[result]}, ${times.clock(wallMs)}`, note].filter((one) => one !== undefined).join('; '),
  );
  const row = (line: WorstLine): Cell[] => {
    const unit = worstUnit(line.quantity, units);
    const figure = (one: WorstLine['on']): string =>
      one === undefined
        ? recordWords.absent
        : `${worstFigure(line.quantity, one.mean, units)}${one.typed === true ? ` (${words.gauge})` : ''}`;
    return [
      `${words.quantities[line.quantity]}, ${unit}`,
      figure(line.off),
      figure(line.on),
      line.change === undefined || line.changeHalf === undefined
        ? recordWords.absent
        : `${worstFigure(line.quantity, line.change, units)} ±${worstFigure(line.quantity, line.changeHalf, units)}`,
      line.limit === undefined ? words.noLimit : `${worstLimit(line, units)}. ${line.source ?? ''}`,
      { text: words.verdicts[line.verdict], strong: line.verdict === 'fail' },
    ];
  };
  const tests = venting.worstCases
    .filter(({ savedWallMs }) => savedWallMs !== undefined)
    .flatMap((test): Block[] => {
      const lines = judgeWorstCase(test);
      return [
        {
          kind: 'table',
          dense: true,
          caption: `${words.caption(times.clock(test.startWallMs))}: ${words.verdictWords[worstVerdict(lines)]}`,
          columns: [
            { label: '', width: 110 },
            { label: words.columns.off, width: 90 },
            { label: words.columns.on, width: 90 },
            { label: words.columns.change, width: 110 },
            { label: words.columns.rule, width: 190 },
            { label: words.columns.verdict, width: 82 },
          ],
          rows: lines.map(row),
        },
        ...whenDefined(test.house, (house) => ({ kind: 'text', text: words.houseLine(house), tone: 'note' }) as const),
      ];
    });
  const blocks: Block[] = [...(checks.length === 0 ? [] : [{ kind: 'list', items: checks } as const]), ...tests];
  return blocks.length === 0 ? undefined : { title: words.section, blocks };
}
