import { useRef } from 'react';
import { common } from '../../../shared/words/common.ts';
import { live } from '../../../shared/words/tune/live.ts';
import { useApp } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Key } from '../../components/Key.tsx';
import { SourceSign } from '../../components/Signs.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectIsRunning, selectMayAct, selectUnits } from '../../state/selectors.ts';
import { sourceStateOf, tapeOf } from '../../state/source-state.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { ChannelRow } from './rows/ChannelRow.tsx';
import { LiveCautions, ShiftAsked } from '../visit/curve/OverLive.tsx';
import { isReadyToTake, mainDeedOf, standingAlarmOf } from './mark-bar/main-deed.ts';
import { MainButton } from './mark-bar/MainButton.tsx';
import { useMarkKeys } from './mark-bar/MarkBar.tsx';
import { Stepper } from './mark-bar/Stepper.tsx';
import { settingWords } from './setting-words.ts';
import { useLiveFacts } from './use-live-facts.ts';
import type { ProbeGate } from '../../../shared/tuning/trial/probe-gate.ts';
import { formatsFor } from '../../../shared/words/formats.ts';
import { probeWords } from '../../../shared/words/tune/probe.ts';
import { adviceFace } from '../visit/curve/advice-words.ts';
import { useCurve } from '../visit/use-visit.ts';
import type { Entry } from '../../state/view-slice.ts';
import { foundIsChosen, useProbeGate } from '../visit/use-probe-gate.ts';
import type { PendingDeeds } from './mark-bar/use-pending-mark.ts';
import { formatAge } from '../../../shared/format/duration.ts';
import './FarView.css';
import './tune.css';

/** Four rows, one sentence, one button: read and used from two metres. */
export function FarView({ record, deeds }: { record: RunRecord; deeds: PendingDeeds }) {
  const { units, rows, trial, running, headline, alert, ageMs } = useLiveFacts(record);
  const farTurned = useApp((state) => state.farTurned);
  const alarm = useApp(standingAlarmOf);
  const probe = useProbeGate();
  const isFound = useApp(foundIsChosen);
  const can = useApp((state) => selectMayAct(state) && selectIsRunning(state)) && record.info.replay === undefined;
  const head = useRef<HTMLElement>(null);
  useMarkKeys(deeds, can, head);
  useEntryKeys(can);
  const isAlarm = alert?.kind === 'alarm';
  const next = useFarNext(probe, isAlarm);
  const from = sourceStateOf(record);
  const tape = tapeOf(record);
  const sentence = isAlarm ? { strong: alert.strong, rest: alert.rest } : headline;
  return (
    <div className="far">
      <header ref={head} className="far-head" role="group" aria-label={live.farView}>
        <span className="trial">{live.trial(trial?.number ?? 1)}</span>
        {deeds.pending === undefined ? <span>{settingWords(trial?.setting, ' · ') || live.noSetting}</span> : null}
        <div className={deeds.pending === undefined ? 'hidden-text' : 'row gap-3'}>
          {deeds.adjusters.map((adjuster) => (
            <Stepper key={adjuster.name} adjuster={adjuster} deeds={deeds} disabled={!can} />
          ))}
        </div>
        <span className="grow" />
        <SourceSign shape={from.shape} />
        <b className="unwrapped far-source">{from.name}</b>
        {ageMs !== undefined && <span className="unwrapped far-age">{live.lastLine(formatAge(ageMs))}</span>}
        <button type="button" className="button quiet" aria-label={live.farView} onClick={farTurned}>
          <Key action="far" />
        </button>
      </header>
      {tape !== undefined && (
        <div className="tape">
          <span>{tape}</span>
        </div>
      )}
      <div
        className="far-rows"
        data-region="main"
        role="group"
        aria-label={common.region.main}
        style={{ gridTemplateRows: `repeat(${Math.max(1, rows.length)}, minmax(0, 1fr))` }}
      >
        <h1 className="hidden-text">{live.farView}</h1>
        {rows.map((row, index) => (
          <ChannelRow
            key={row.channel}
            row={row}
            isFirst={index === 0}
            isLast={index === rows.length - 1}
            nowMs={record.face.timeMs}
            lineAgeMs={ageMs}
            units={units}
            size="far"
          />
        ))}
      </div>
      {next !== undefined && (
        <div className="far-next" role="status">
          <span className="second">{live.farNext}</span>
          <b>
            <ChannelName text={next} />
          </b>
        </div>
      )}
      <LiveCautions />
      {!isAlarm && <ShiftAsked record={record} />}
      <div
        className={`far-foot${isAlarm ? ' alarm' : isReadyToTake(record, alarm, { probe, trial: running }) ? ' ready' : ''}`}
        role={isAlarm ? 'alert' : 'group'}
        data-region="bar"
        aria-label={common.region.bar}
      >
        <div>
          <div className={`sentence${sentence.strong.length > 26 ? ' longer' : ''}`}>
            <ChannelName text={sentence.strong === '' ? sentence.rest : sentence.strong} />
          </div>
          {sentence.strong !== '' && (
            <div className="next">
              <ChannelName text={deeds.pending?.error ?? sentence.rest} />
            </div>
          )}
        </div>
        <span className="grow" />
        <MainButton deed={mainDeedOf(record, alarm, { probe, isFound, trial: running })} blocked={deeds.pending !== undefined} />
      </div>
    </div>
  );
}

function useEntryKeys(can: boolean): void {
  const entryOpened = useApp((state) => state.entryOpened);
  const open = (entry: Entry) => (): void => entryOpened(entry);
  useKey('smoke', open('smoke'), can);
  useKey('draft', open('draft'), can);
  useKey('pressure', open('pressure'), can);
  useKey('note', open('note'), can);
}

/** In a visit the next thing to do, as large as the figures: the spot before the probe, or the setting that the curve asks for. */
function useFarNext(probe: ProbeGate, isAlarm: boolean): string | undefined {
  const step = useApp((state) => (state.visit === undefined ? undefined : state.visitStep));
  const formats = formatsFor(useApp(selectUnits));
  const facts = useCurve();
  if (step === undefined || isAlarm) return undefined;
  if (probe.state !== 'open') return probe.state === 'needed' ? probeWords.type : probeWords.another;
  if (step !== 'air-curve') return undefined;
  const face = adviceFace(facts, formats);
  return face.to === undefined ? face.headline : `${face.adjuster ?? ''} ${face.to}`.trim();
}
