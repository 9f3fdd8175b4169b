import { Suspense, useEffect, useMemo, useState } from 'react';
import type { DerivedKey } from '../../../shared/measurement/derived.ts';
import { common } from '../../../shared/words/common.ts';
import { live } from '../../../shared/words/tune/live.ts';
import { useApp } from '../../app-parts.ts';
import { AlertBand } from '../../components/alerts/AlertBand.tsx';
import { ChannelName } from '../../components/ChannelName.tsx';
import { later, Opening } from '../../components/Later.tsx';
import { figuresDrawn } from '../../live/idle.ts';
import { useWide } from '../../look/use-wide.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { ChannelRow } from './rows/ChannelRow.tsx';
import { DerivedRow } from './rows/DerivedRow.tsx';
import { WaitingBlock } from './WaitingBlock.tsx';
import { MarkBar } from './mark-bar/MarkBar.tsx';
import { settingWords } from './setting-words.ts';
import { unrestOf } from '../../state/readiness.ts';
import { movedAdjusters } from '../../state/trials.ts';
import { Tools } from './Tools.tsx';
import { TrialsColumn } from './TrialsColumn.tsx';
import { trendContentOf, weightOf } from './trend/trend-content-of.ts';
import { useLiveFacts } from './use-live-facts.ts';
import { LiveCautions, ShiftAsked } from '../visit/curve/OverLive.tsx';
import type { PendingDeeds } from './mark-bar/use-pending-mark.ts';
import { formatClock, formatDuration } from '../../../shared/format/duration.ts';
import './LiveView.css';

// the figures are read before the curves and their sources
const LiveTrend = later(() =>
  figuresDrawn()
    .then(() => import('./trend/LiveTrend.tsx'))
    .then((found) => found.LiveTrend),
);
const HowComputed = later(() => import('./rows/HowComputed.tsx').then((found) => found.HowComputed));

export function LiveView({ record, deeds }: { record: RunRecord; deeds: PendingDeeds }) {
  const facts = useLiveFacts(record);
  const [figure, setFigure] = useState<DerivedKey>();
  const said = useApp((state) => state.said);
  const isWide = useWide();
  const { units, rows, trials, trial, headline, alert, otherAlerts, ageMs, isVoid } = facts;
  const { info, face } = record;
  const content = useMemo(() => trendContentOf(record, rows, trials), [record, rows, trials]);
  const isAlarm = alert?.kind === 'alarm';
  const error = deeds.pending?.error;
  const mayDraw = useAfterFigures(rows.some(({ value }) => value !== undefined));

  return (
    <div
      className="live"
      style={{ '--pin-half': isWide ? '26px' : '19.5px', '--slot-half': isWide ? '35px' : '26px' } as React.CSSProperties}
    >
      <Tools
        title={live.runOf(formatClock(info.startWallMs, info.zoneMinutes, 'minutes'))}
        about={common.fuels[info.fuelId] ?? info.fuelId}
      />
      <div className="live-main" data-region="main" role="group" aria-label={common.region.main}>
        <div className="measure">
          <div className="trial-line">
            <b>{live.trial(trial?.number ?? 1)}</b>
            <span className="second">
              {['', ...trialLine(record, trial?.fromMs ?? 0, settingWords(trial?.setting), isVoid, said)].join(' · ')}
            </span>
          </div>
          <div className="rows" style={{ gridTemplateRows: rows.map(({ channel }) => `minmax(0, ${weightOf(channel)}fr)`).join(' ') }}>
            {rows.map((row, index) => (
              <ChannelRow
                key={row.channel}
                row={row}
                isFirst={index === 0}
                isLast={index === rows.length - 1}
                nowMs={face.timeMs}
                lineAgeMs={ageMs}
                units={units}
                size={isWide ? 'large' : 'normal'}
              />
            ))}
          </div>
          <div className={`ready-line${headline.strong.length + headline.rest.length > 48 ? ' long' : ''}`}>
            {/* an alarm says what to do, and nothing beside it */}
            {rows.length === 0 || (isAlarm && !isVoid && error === undefined) ? null : error === undefined ? (
              <>
                {headline.strong !== '' && (
                  <b>
                    <ChannelName text={headline.strong} />
                  </b>
                )}{' '}
                <span>
                  <ChannelName text={headline.rest} />
                </span>
              </>
            ) : (
              <b className="field-error">{error}</b>
            )}
          </div>
          {rows.length === 0 ? (
            <WaitingBlock strong={headline.strong} rest={headline.rest} />
          ) : !mayDraw ? (
            <TrendOpening />
          ) : (
            <Suspense fallback={<TrendOpening />}>
              <LiveTrend info={info} content={content} summary={`${headline.strong} ${headline.rest}`} />
            </Suspense>
          )}
        </div>
        <TrialsColumn
          trials={trials}
          adjusters={movedAdjusters(
            trials,
            deeds.adjusters.map(({ name }) => name),
          )}
          rows={rows}
          units={units}
          waiting={isVoid}
          unrest={unrestOf(record)}
        />
      </div>
      {alert !== undefined && isAlarm && isVoid ? (
        <AlertBand alert={alert} others={otherAlerts} />
      ) : (
        <DerivedRow derived={face.derived} rows={rows} units={units} open={setFigure} />
      )}
      {alert !== undefined && !(isAlarm && isVoid) && <AlertBand alert={alert} others={otherAlerts} />}
      <LiveCautions />
      {/* one at a time: an alarm comes before a question */}
      {!isAlarm && <ShiftAsked record={record} />}
      {/* nothing is marked or taken in what was measured before: the replay's own bar stands in its place */}
      {info.replay === undefined && <MarkBar record={record} deeds={deeds} />}
      <Suspense>{figure !== undefined && <HowComputed figure={figure} record={record} close={() => setFigure(undefined)} />}</Suspense>
    </div>
  );
}

/** the longest that the curves wait for a figure: an instrument may be silent */
const CURVES_WAIT_MS = 1000;

function useAfterFigures(hasFigure: boolean): boolean {
  const [isOver, setIsOver] = useState(hasFigure);
  useEffect(() => {
    if (isOver) return undefined;
    const timer = setTimeout(() => setIsOver(true), hasFigure ? 0 : CURVES_WAIT_MS);
    return () => clearTimeout(timer);
  }, [isOver, hasFigure]);
  return isOver;
}

const TrendOpening = () => (
  <div className="trend">
    <Opening />
  </div>
);

function trialLine({ face, info }: RunRecord, fromMs: number, setting: string, isVoid: boolean, said: string): string[] {
  if (isVoid) return [live.waiting];
  // what was just done takes the place of the rest for a moment: side by side they would be cut off
  return said === ''
    ? [
        setting === '' ? live.noSetting : setting,
        live.forTime(formatDuration(face.timeMs - fromMs)),
        ...(info.knownVisits === undefined || info.knownVisits === 0 ? [] : [live.knowsBoiler(info.knownVisits)]),
        ...(info.knowsInstrument === true ? [live.knowsInstrument] : []),
      ]
    : [said.replace(/\.$/, '')];
}
