import { formatDuration } from '../../format/duration.ts';
import { formatIsoDay, isoDay } from '../../format/date.ts';
import { formatNumber, formatWithUnit } from '../../format/quantity.ts';
import { quantities } from '../../units/quantities.ts';
import { O2_FLOOR_PERCENT, isRaised } from '../../tuning/advice/cautions.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import type { Block, Cell, Fact, Section } from '../report-model.ts';
import { hashInGroups, timesOf, trialNumber } from '../written.ts';
import { fact } from './job.ts';
import type { Parts } from '../pages/page-parts.ts';

/** Instrument, its last bench test, recipe, the run files with their hashes, and what limits the trust in all of it. */
export function instrumentSection(parts: Parts): Section {
  const { visit, input } = parts;
  const { columns } = recordWords;
  const trust = trustLines(parts);
  const blocks: Block[] = [{ kind: 'facts', facts: instrumentFacts(parts) }];
  if (visit.runs.length > 0) {
    const times = timesOf(visit);
    blocks.push({
      kind: 'table',
      dense: true,
      columns: [
        { label: columns.run, width: 190 },
        { label: columns.kept, width: 190 },
        { label: columns.lines, figures: true, width: 130 },
        { label: columns.notUnderstood, figures: true, width: 162 },
      ],
      rows: visit.runs.map((run): Cell[] => {
        const file = input.runs.find(({ runId }) => runId === run.id);
        return [
          times.dayAndTime(run.startWallMs),
          recordWords.sources[run.source],
          file === undefined ? recordWords.absent : formatNumber(file.lines, 0),
          file === undefined ? recordWords.absent : formatNumber(file.rejected, 0),
        ];
      }),
    });
    for (const run of visit.runs) {
      const hash = run.hash ?? input.runs.find(({ runId }) => runId === run.id)?.hash;
      const label = `${times.clock(run.startWallMs)} ${columns.hash}:`;
      blocks.push(
        hash === undefined
          ? { kind: 'text', text: `${label} ${recordWords.notHere}`, tone: 'note' }
          : { kind: 'hash', label, text: hashInGroups(hash) },
      );
    }
  }
  blocks.push({ kind: 'heading', text: recordWords.trust });
  blocks.push(trust.length === 0 ? { kind: 'text', text: recordWords.trustNone } : { kind: 'list', items: trust });
  return { title: recordWords.instrument, blocks };
}

function instrumentFacts({ visit, input, units }: Parts): Fact[] {
  const { labels } = recordWords;
  const times = timesOf(visit);
  const named = input.instrument?.instrument;
  const bench = input.instrument?.benchTest;
  const recipes = [...new Set(input.runs.flatMap(({ recipeName }) => recipeName ?? []))];
  const cells = named?.cells.map(({ channel, serial, installed, rangeLow, rangeHigh }) =>
    [
      `${quantities[channel].label} ${rangeLow} to ${formatNumber(rangeHigh, 0)} ${quantities[channel].unit}`,
      serial,
      installed === undefined ? undefined : `installed ${formatIsoDay(installed)}`,
    ]
      .filter(Boolean)
      .join(', '),
  );
  return [
    fact(labels.instrument, named?.name ?? visit.instrumentName ?? recordWords.noInstrument),
    fact(labels.serial, named?.serial),
    fact(labels.firmware, named?.firmware),
    fact(labels.cells, cells?.join('; ')),
    fact(labels.filter, named?.filterChanged && formatIsoDay(named.filterChanged)),
    fact(labels.benchTest, bench === undefined ? recordWords.noBench : `${times.day(bench.wallMs)}: ${bench.verdict}`),
    fact(labels.certificate, named?.certificateUntil && formatIsoDay(named.certificateUntil)),
    fact(
      labels.zeroed,
      visit.zeroed === undefined
        ? recordWords.notZeroed
        : `${times.dayAndTime(visit.zeroed.wallMs)}, ${recordWords.places[visit.zeroed.place]}`,
    ),
    fact(labels.recipe, recipes.join(', ')),
    fact(labels.airTyped, visit.airTypedC === undefined ? undefined : formatWithUnit('airTemperature', visit.airTypedC, units)),
    fact(labels.program, `Flueside ${input.appVersion}`),
  ].filter((one) => one !== undefined);
}

function trustLines({ visit, input, main, stages, units }: Parts): string[] {
  const { trustLines: say } = recordWords;
  const lines: (string | undefined)[] = [];
  const unsettled = (which: 'asFound' | 'asLeft'): boolean => stages.some((facts) => facts[which]?.reading?.settled === false);
  if (unsettled('asLeft')) lines.push(say.asLeftUnsettled);
  if (unsettled('asFound')) lines.push(say.asFoundUnsettled);
  const inferred = visit.trials.filter((trial) => trial.inferred === true).map(({ id }) => trialNumber(visit, id));
  if (inferred.length > 0) lines.push(say.inferred(inferred.join(', ')));
  const stale = stages.flatMap((facts) => [...facts.stale.keys()].map((id) => trialNumber(visit, id)));
  if (stale.length > 0) lines.push(say.stale(stale.join(', ')));
  if (visit.runs.some(({ source }) => source === 'typed')) lines.push(say.typed);
  if (visit.airTypedC !== undefined || main.asLeft?.reading?.channels.airTemperature?.typed === true) lines.push(say.typedAir);
  const gaps = input.runs.flatMap((run) => run.gaps.map(({ fromMs, toMs }) => (toMs ?? run.endMs) - fromMs));
  if (gaps.length > 0) lines.push(say.gaps(gaps.length, formatDuration(gaps.reduce((sum, ms) => sum + ms, 0))));
  const excluded = input.runs.reduce((sum, run) => sum + run.excluded.length, 0);
  if (excluded > 0) lines.push(say.excluded(excluded));
  const rejected = input.runs.reduce((sum, run) => sum + run.rejected, 0);
  if (rejected > 0) lines.push(say.rejected(formatNumber(rejected, 0)));
  if (input.runs.some(({ isReread }) => isReread === true)) lines.push(say.reread);
  const until = input.instrument?.instrument.certificateUntil;
  const day = isoDay(visit.startedWallMs, visit.zoneMinutes);
  if (until !== undefined && until < day) lines.push(say.certificateOut(formatIsoDay(until)));
  if (input.instrument?.benchTest === undefined) lines.push(say.noBench);
  if (visit.zeroed?.place === 'indoors') lines.push(say.zeroIndoors);
  if (visit.zeroed === undefined || visit.zeroed.place === 'unknown') lines.push(say.zeroUnknown);
  if (main.asLeft?.smoke?.spots.length === 1) lines.push(say.smokeOne);
  const missing = visit.runs.filter(({ id }) => !input.runs.some(({ runId }) => runId === id)).length;
  if (missing > 0) lines.push(say.missingRuns(missing));
  const changed = visit.runs.some(({ id, hash }) => {
    const now = input.runs.find(({ runId }) => runId === id)?.hash;
    return hash !== undefined && now !== undefined && hash !== now;
  });
  if (changed) lines.push(say.changedRun);
  if (input.signatureHolds === false) lines.push(say.signatureBroken);
  const limits = visit.flueCoLimits;
  if (limits?.reason !== undefined && isRaised(limits))
    lines.push(
      say.limitsRaised(
        formatWithUnit('coAirFreePpm', limits.noticePpm, units),
        formatWithUnit('coAirFreePpm', limits.alarmPpm, units),
        limits.reason,
      ),
    );
  if (visit.o2FloorPercent !== undefined && visit.o2FloorPercent < O2_FLOOR_PERCENT)
    lines.push(say.floorLowered(formatWithUnit('o2', visit.o2FloorPercent, units), limits?.reason ?? ''));
  return lines.filter((line) => line !== undefined);
}
