/** Work done, parts, defects left, draft before the air, who was told. */
import { formatIsoDay } from '../../format/date.ts';
import { draftBoth } from '../../format/quantity.ts';
import { probeWords } from '../../words/tune/probe.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { changedWords, jobWords, warmUpWords, workWords as words } from '../../words/tune/trade.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import type { Block, Section } from '../report-model.ts';
import { timesOf } from '../written.ts';
import { fact } from './job.ts';
import type { Parts } from '../pages/page-parts.ts';

/** 'Nozzle changed; 80 degrees solid; part N-0085' */
export const workLines = ({ work = [] }: Pick<Visit, 'work'>): string[] =>
  work.map(({ kind, note, part }) =>
    [words.kinds[kind], note, part === undefined ? undefined : words.partLine(part)].filter((one) => one !== undefined).join('; '),
  );
export const defectLines = ({ defects = [] }: Pick<Visit, 'defects'>): string[] =>
  defects.map(({ text, weight, tag }) =>
    [`${words.weights[weight]}: ${text}`, tag === undefined ? undefined : words.tagLine(tag)].filter((one) => one !== undefined).join('; '),
  );

export function workSection({ visit, units }: Parts): Section | undefined {
  const times = timesOf(visit);
  const set = visit.drafts.findLast(({ when }) => when === 'set');
  const draft = (pa: number | undefined): string | undefined => (pa === undefined ? undefined : draftBoth(pa, units));
  const zeroed = visit.warmUp?.gaugeZeroedWallMs;
  const { ownerTold, nextDue, job } = visit;
  const facts = [
    fact(jobWords.label, job && jobWords.names[job]),
    ...(visit.probeSmoke ?? []).map(({ spots, withoutReason, wallMs }) =>
      fact(probeWords.fact, `${withoutReason ?? probeWords.spots(spots)}, ${times.clock(wallMs)}`),
    ),
    fact(warmUpWords.gauge, zeroed === undefined ? undefined : times.clock(zeroed)),
    fact(warmUpWords.setField(warmUpWords.overFire), draft(set?.overFirePa)),
    fact(warmUpWords.setField(warmUpWords.breech), draft(set?.breechPa)),
    fact(warmUpWords.regulator, visit.warmUp?.regulator && warmUpWords.regulators[visit.warmUp.regulator]),
    fact(words.told, ownerTold && `${ownerTold.whom}, ${words.hows[ownerTold.how]}, ${times.clock(ownerTold.wallMs)}`),
    fact(words.next, nextDue && formatIsoDay(nextDue)),
  ].filter((one) => one !== undefined);
  const figures = visit.changes.flatMap(({ kind, before, after, wallMs }) =>
    before === undefined && after === undefined
      ? []
      : [`${times.clock(wallMs)}: ${changedWords.kinds[kind]}, ${before ?? recordWords.absent} → ${after ?? recordWords.absent}`],
  );
  const part = (title: string, items: readonly string[]): Block[] =>
    items.length === 0
      ? []
      : [
          { kind: 'heading', text: title },
          { kind: 'list', items },
        ];
  const blocks: Block[] = [
    ...(facts.length === 0 ? [] : [{ kind: 'facts', facts } as const]),
    ...part(words.title, workLines(visit)),
    ...part(changedWords.title, figures),
    ...part(words.defects, defectLines(visit)),
  ];
  return blocks.length === 0 ? undefined : { title: words.section, blocks };
}
