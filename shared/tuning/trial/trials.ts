import type { Mark, MarkEdit, Setting, SmokeSpot } from '../../measurement/mark.ts';
import type { Reading } from '../../measurement/state.ts';
import { currentMarks, pauses } from './marks.ts';
import { isCleanPaper } from './oil.ts';
import type { Trial } from './trial.ts';
import { defined } from '../../defined.ts';

export type RunRecord = {
  runId: string;
  startWallMs: number;
  /** the setting in force when the run began, as found or as the run before left it */
  startSetting: Setting;
  startPumpPa?: number | undefined;
  marks: readonly Mark[];
  edits: readonly MarkEdit[];
  readings: readonly Reading[];
  /** when something was changed that moves everything else: what was read before stays a trial of its own */
  changedAtMs?: readonly number[] | undefined;
};

/** Two settings are the same when the stage and every position agree. */
export function sameSetting(a: Setting, b: Setting): boolean {
  if (a.stage !== b.stage || a.positions.length !== b.positions.length) return false;
  return a.positions.every(({ name, value }) => b.positions.some((other) => other.name === name && other.value === value));
}

type Stretch = {
  id: string;
  fromMs: number;
  toMs: number | undefined;
  setting: Setting;
  inferred: boolean;
  pumpPa: number | undefined;
  marks: Mark[];
};

/**
 * A run's marks and readings -> trials. Each adjustment or change of pressure opens one; smoke, draft and notes belong to the setting that
 * stood when they were marked. Rebuilt from the lists each time, so that a moved or undone mark needs no special care.
 * A stretch with nothing in it (two marks in quick succession) gives no trial. A reading that spans a change belongs to none.
 *
 * @param running true: the setting that stands now is told even with nothing in it yet
 */
export function trialsOf(run: RunRecord, { running = false }: { running?: boolean } = {}): Trial[] {
  const marks = currentMarks(run.marks, run.edits);
  const paused = pauses(marks);
  return stretchesOf(run, marks).flatMap((stretch) => {
    const trial = trialOf(run, stretch, paused);
    const isTold = running && stretch.toMs === undefined;
    return isTold || trial.reading || trial.smoke || trial.draft || trial.notes.length > 0 ? [trial] : [];
  });
}

function stretchesOf(run: RunRecord, marks: readonly Mark[]): Stretch[] {
  let open: Stretch = {
    id: `${run.runId}:start`,
    fromMs: 0,
    toMs: undefined,
    setting: run.startSetting,
    inferred: false,
    pumpPa: run.startPumpPa,
    marks: [],
  };
  const stretches = [open];
  const changes = [...(run.changedAtMs ?? [])].sort((a, b) => a - b);
  const splitUntil = (timeMs: number): void => {
    while (changes[0] !== undefined && changes[0] <= timeMs) {
      const atMs = changes.shift()!;
      const { fromMs } = open;
      if (atMs <= fromMs || !run.readings.some((reading) => reading.fromMs >= fromMs && reading.toMs <= atMs)) continue;
      open.toMs = atMs;
      open = { ...open, id: `${run.runId}:changed-${atMs}`, fromMs: atMs, toMs: undefined, inferred: false, marks: [] };
      stretches.push(open);
    }
  };
  for (const mark of marks) {
    const { body, timeMs } = mark;
    splitUntil(timeMs);
    const moved = body.kind === 'adjustment' && !sameSetting(body.setting, open.setting);
    const pressed = body.kind === 'pressure' && open.pumpPa !== undefined && Math.abs(body.pumpPa - open.pumpPa) > 0.01 * open.pumpPa;
    if (moved || pressed) {
      open.toMs = timeMs;
      open = {
        id: `${run.runId}:${mark.id}`,
        fromMs: timeMs,
        toMs: undefined,
        setting: body.kind === 'adjustment' ? body.setting : open.setting,
        inferred: body.kind === 'adjustment' && body.inferred === true,
        pumpPa: body.kind === 'pressure' ? body.pumpPa : open.pumpPa,
        marks: [],
      };
      stretches.push(open);
    } else {
      if (body.kind === 'pressure') open.pumpPa = body.pumpPa;
      open.marks.push(mark);
    }
  }
  splitUntil(Infinity);
  return stretches;
}

function trialOf(run: RunRecord, stretch: Stretch, paused: readonly { fromMs: number; toMs: number }[]): Trial {
  const reading = bestReading(
    run.readings.filter(
      ({ fromMs, toMs }) =>
        fromMs >= stretch.fromMs &&
        (stretch.toMs === undefined || toMs <= stretch.toMs) &&
        !paused.some((pause) => fromMs < pause.toMs && toMs > pause.fromMs),
    ),
  );
  const smoke = stretch.marks.flatMap(({ body }) => (body.kind === 'smoke' ? [body] : []));
  const drafts = stretch.marks.flatMap(({ body }) => (body.kind === 'draft' ? [body] : []));
  const overFirePa = drafts.findLast((draft) => draft.overFirePa !== undefined)?.overFirePa;
  const breechPa = drafts.findLast((draft) => draft.breechPa !== undefined)?.breechPa;
  const spots = smoke.flatMap((mark) => mark.spots).slice(-6);
  return {
    id: stretch.id,
    runId: run.runId,
    fromMs: stretch.fromMs,
    ...defined({ toMs: stretch.toMs }),
    takenWallMs: run.startWallMs + (reading?.takenMs ?? stretch.fromMs),
    setting: stretch.setting,
    ...(stretch.inferred ? { inferred: true } : {}),
    ...(reading ? { reading } : {}),
    ...(smoke.length > 0
      ? {
          smoke: {
            spots,
            ...(spots.length === 0 && smoke.some((mark) => mark.notTaken) ? { notTaken: true } : {}),
            ...oilAmong(stretch.marks, run.startWallMs),
          },
        }
      : {}),
    ...defined({
      draft: overFirePa !== undefined || breechPa !== undefined ? defined({ overFirePa, breechPa }) : undefined,
      pumpPa: stretch.pumpPa,
    }),
    notes: stretch.marks.flatMap(({ body }) => (body.kind === 'note' ? [body.text] : [])),
  };
}

/** A paper after another one does not take the oil away: its time is kept, also when so many spots came after it that it is no longer among them. */
function oilAmong(marks: readonly Mark[], startWallMs: number): Pick<NonNullable<Trial['smoke']>, 'oil'> {
  const timeOf = (isMeant: (spots: readonly SmokeSpot[]) => boolean): number | undefined => {
    const mark = marks.findLast(({ body }) => body.kind === 'smoke' && isMeant(body.spots));
    return mark && startWallMs + mark.timeMs;
  };
  const wallMs = timeOf((spots) => spots.some(({ oilTrace }) => oilTrace === true));
  if (wallMs === undefined) return {};
  const cleanWallMs = timeOf(isCleanPaper);
  return { oil: { wallMs, ...defined({ cleanWallMs: cleanWallMs !== undefined && cleanWallMs > wallMs ? cleanWallMs : undefined }) } };
}

/** Settled before unsettled, full before gas, later before earlier. A reading that was revised keeps its id; the last one counts. */
function bestReading(readings: readonly Reading[]): Reading | undefined {
  const latest = [...new Map(readings.map((reading) => [reading.id, reading])).values()];
  const rank = (reading: Reading): number => (reading.settled ? 2 : 0) + (reading.scope === 'full' ? 1 : 0);
  return latest.reduce<Reading | undefined>(
    (best, reading) =>
      !best || rank(reading) > rank(best) || (rank(reading) === rank(best) && reading.toMs >= best.toMs) ? reading : best,
    undefined,
  );
}
