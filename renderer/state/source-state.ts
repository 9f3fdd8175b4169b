/** What the source bar says. Pure. */
import { practiceScenarios } from '../../shared/bench/practice-scenarios.ts';
import type { RunInfo } from '../../shared/ipc/run-info.ts';
import { source } from '../../shared/words/source.ts';
import { isSilent } from './channels.ts';
import type { RunRecord } from './run-record.ts';
import { formatNumber } from '../../shared/format/quantity.ts';

export type SourceShape = 'none' | 'learning' | 'connected' | 'cut' | 'typed' | 'simulated' | 'replay';
export type SourceState = { shape: SourceShape; alarm: boolean; name: string; about: string };

export function sourceLabel({ source: from }: Pick<RunInfo, 'source'>): string {
  switch (from.kind) {
    case 'serial':
      return from.label;
    case 'simulated':
      return isInstrument(from.scenario) ? source.simulatedInstrument : source.simulated;
    case 'replay':
      return source.replay(from.label);
    case 'typed':
      return source.typed;
  }
}

const isInstrument = (scenario: string): boolean => (practiceScenarios as readonly string[]).includes(scenario);

const shapeOf = ({ source: from }: RunInfo): SourceShape => (from.kind === 'serial' ? 'connected' : from.kind);

function aboutOf(info: RunInfo): string {
  const from = info.source;
  if (from.kind === 'simulated') return source.scenario(isInstrument(from.scenario) ? from.title.replace(/^Bench: /, '') : from.title);
  if (from.kind === 'replay')
    return source.replaySpeed(
      formatNumber(info.replay?.speed ?? 1, Number.isInteger(info.replay?.speed ?? 1) ? 0 : 1),
      info.replay?.playing ?? false,
    );
  if (from.kind === 'typed') return source.typedAbout;
  return info.recipeName === undefined ? source.noRecipe : source.recipe(info.recipeName);
}

export function sourceStateOf(record: RunRecord | undefined): SourceState {
  if (record === undefined) return { shape: 'none', alarm: false, ...source.none };
  const { info, face } = record;
  const label = sourceLabel(info);
  switch (info.phase) {
    case 'connecting':
      return { shape: 'learning', alarm: false, name: label, about: source.connecting };
    case 'learning':
      return { shape: 'learning', alarm: false, name: label, about: source.learning(face.counters.lines) };
    case 'lost':
      return info.problem === undefined || info.problem.code === 'port-lost'
        ? { shape: 'cut', alarm: true, name: source.unplugged(label), about: source.unpluggedAbout }
        : { shape: 'cut', alarm: true, name: source.lost(label), about: source.unpluggedAbout };
    case 'paused':
      return { shape: shapeOf(info), alarm: false, name: source.pausedName(label), about: aboutOf(info) };
    case 'ended':
      return { shape: 'none', alarm: false, name: source.ended(label), about: source.endedAbout };
    case 'running':
      return isSilent(record)
        ? { shape: 'cut', alarm: true, name: source.silent(label), about: source.silentAbout }
        : { shape: shapeOf(info), alarm: false, name: label, about: aboutOf(info) };
  }
}

/** The words of the slanted tape; undefined for real measurements. On the bench there is no visit, but a certificate. */
export function tapeOf(record: RunRecord | undefined, { onBench = false }: { onBench?: boolean } = {}): string | undefined {
  switch (record?.info.source.kind) {
    case 'simulated':
      return onBench || isInstrument(record.info.source.scenario) ? source.tapeSimulatedBench : source.tapeSimulated;
    case 'replay':
      return record.info.source.of === 'simulated' ? source.tapeReplaySimulated : source.tapeReplay;
    case 'typed':
      return source.tapeTyped;
    default:
      return undefined;
  }
}
