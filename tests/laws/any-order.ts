/**
 * A visit whose buttons are pressed in any order: marks, readings, spots, undo, causes, bypasses, tests, choices and signatures go through the reducers of
 * the host's session, as main/visits calls them, and after every press the laws are asked. What is remembered of the presses is kept here, apart from them.
 */
import fc from 'fast-check';
import { wayOutOf } from '../../renderer/views/visit/way-out.ts';
import { curveFacts } from '../../renderer/views/visit/visit-facts.ts';
import { reportDeedOf } from '../../renderer/views/visit/steps/report-deed.ts';
import type { Mark } from '../../shared/measurement/mark.ts';
import type { Reading } from '../../shared/measurement/state.ts';
import { chosenByItself } from '../../shared/tuning/visit/by-itself.ts';
import { coAirFreePpm } from '../../shared/tuning/trial/gas-basis.ts';
import { isLeftOff, judgeVisit } from '../../shared/tuning/advice/safe.ts';
import { safetyTests } from '../../shared/tuning/safety/safety-plan.ts';
import { signVisit } from '../../shared/tuning/visit/sign-visit.ts';
import { stepIds, type StepId } from '../../shared/tuning/visit/step-names.ts';
import { takeRun, takeTrials, type RunFacts } from '../../shared/tuning/visit/visit-session.ts';
import { Visit, newVisit } from '../../shared/tuning/visit/visit.ts';

const needed = safetyTests.filter(({ optional }) => optional === undefined).map(({ id }) => id);
const oneOf = fc.constantFrom;

export const press = fc.oneof(
  { weight: 5, arbitrary: fc.record({ does: fc.constant('turn' as const), to: oneOf(3, 4, 5, 6, 7) }) },
  {
    weight: 8,
    arbitrary: fc.record({
      does: fc.constant('read' as const),
      o2: oneOf(1.8, 2, 2.6, 3.4, 4.2, 5, 5.3, 6.4, 8),
      co: oneOf(0, 12, 12, 20, 40, 90, 380, 900),
      settled: oneOf(true, true, true, false),
    }),
  },
  {
    weight: 7,
    arbitrary: fc.record({
      does: fc.constant('spot' as const),
      number: oneOf(0, 0, 0, 0.5, 1, 2, 5),
      oil: oneOf(false, false, false, false, true),
      wet: oneOf(false, false, false, true),
    }),
  },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('undo' as const) }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('cause' as const) }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant('room' as const), ppm: oneOf(0, 2, 2, 8, 9, 34, 35, 120) }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('bypass' as const) }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('removed' as const) }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('all tests' as const) }) },
  {
    weight: 2,
    arbitrary: fc.record({
      does: fc.constant('test' as const),
      test: oneOf(...needed),
      result: oneOf('pass' as const, 'fail' as const, 'not-applicable' as const),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ does: fc.constant('changed' as const), kind: oneOf('nozzle' as const, 'pressure' as const, 'draft' as const) }),
  },
  { weight: 4, arbitrary: fc.record({ does: fc.constant('leave it' as const), at: fc.nat({ max: 5 }) }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant('step' as const), step: oneOf(...stepIds) }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('fuel' as const), fuelId: oneOf('no2', 'b20', undefined) }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('left off' as const), whole: fc.boolean() }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant('sign' as const) }) },
);
type Press = typeof press extends fc.Arbitrary<infer P> ? P : never;

const begun = (): Visit => ({
  ...newVisit({
    id: 'v',
    number: 1,
    kind: 'service',
    startedWallMs: 0,
    zoneMinutes: 0,
    unitPreset: 'us',
    adjusters: [{ name: 'shutter', unit: '', min: 0, max: 10, step: 0.5, role: 'fine', kind: 'air' }],
  }),
  job: 'service',
  fuelId: 'no2',
});

export type Met = { pressed: number; oil: number; alarm: number; lessAir: number; refused: number; signed: number };

/** @throws at the first press after which a law does not hold */
export function pressAll(presses: readonly Press[], met: Met): void {
  let visit = begun();
  let marks: Mark[] = [];
  const readings: Reading[] = [];
  let timeMs = 0;
  let count = 0;
  const expectThat = (holds: boolean, law: string): void => {
    if (!holds) throw new Error(`${law}, after press ${count} of ${JSON.stringify(presses.slice(0, count))}`);
  };
  const run = (): RunFacts => ({
    runId: 'run-1',
    startWallMs: 0,
    source: 'port',
    ended: false,
    startSetting: { stage: '1', positions: [{ name: 'shutter', value: 5 }] },
    marks,
    readings,
  });
  const mark = (body: Mark['body']): void => void marks.push({ id: `m${count}`, timeMs, body });
  const signed = (): boolean => visit.signature !== undefined;

  const act = (one: Press): void => {
    switch (one.does) {
      case 'turn':
        return mark({ kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'shutter', value: one.to }] } });
      case 'read': {
        const channel = (mean: number, u: number) => ({ mean, sd: 0.02, n: 20, nEff: 10, u });
        return void readings.push({
          id: `r${count}`,
          scope: 'full',
          settled: one.settled,
          fromMs: timeMs - 500,
          toMs: timeMs,
          takenMs: timeMs,
          final: true,
          channels: {
            o2: channel(one.o2, 0.17),
            co: channel(one.co, 11),
            stackTemperature: channel(220, 1.2),
            airTemperature: channel(20, 0.6),
          },
        });
      }
      case 'spot':
        return mark({
          kind: 'smoke',
          spots: [{ number: one.number, ...(one.wet && { flaw: 'wet' as const }), ...(one.oil && { oilTrace: true }) }],
        });
      case 'undo':
        marks = marks.slice(0, -1);
        return;
      case 'cause':
        visit = { ...visit, oilCauses: [...(visit.oilCauses ?? []), { wallMs: timeMs, text: 'nozzle loose' }].slice(-20) };
        return;
      case 'room':
        visit = { ...visit, roomCo: [...visit.roomCo, { wallMs: timeMs, ppm: one.ppm }] };
        return;
      case 'bypass':
        visit = { ...visit, bypasses: [...visit.bypasses, { what: 'limit', openedWallMs: timeMs }] };
        return;
      case 'removed':
        visit = { ...visit, bypasses: visit.bypasses.map((bypass) => ({ ...bypass, closedWallMs: bypass.closedWallMs ?? timeMs })) };
        return;
      case 'all tests':
        visit = { ...visit, safety: needed.map((test) => ({ test, result: 'pass', wallMs: timeMs })) };
        return;
      case 'test':
        visit = { ...visit, safety: [...visit.safety, { test: one.test, result: one.result, wallMs: timeMs }].slice(-60) };
        return;
      case 'changed':
        visit = { ...visit, changes: [...visit.changes, { wallMs: timeMs, kind: one.kind, note: 'new' }] };
        return;
      case 'leave it': {
        const id = visit.trials[one.at]?.id;
        visit = { ...visit, stages: visit.stages.map((stage) => ({ ...stage, ...(id !== undefined && { asLeftTrialId: id }) })) };
        return;
      }
      case 'step':
        visit = { ...visit, at: { step: one.step, stage: '1' } };
        return;
      case 'fuel': {
        const { fuelId: _, ...rest } = visit;
        visit = { ...rest, ...(one.fuelId !== undefined && { fuelId: one.fuelId }) };
        return;
      }
      case 'left off':
        visit = { ...visit, notLeftRunning: { wallMs: timeMs, leftOff: one.whole, redTagged: one.whole, ownerTold: 'B. Owner' } };
        return;
      case 'sign': {
        const answer = signVisit(visit, { name: 'A. Sample', wallMs: timeMs, hash: 'h' });
        if (!answer.ok) {
          met.refused++;
          return;
        }
        expectThat(
          visit.bypasses.every(({ closedWallMs }) => closedWallMs !== undefined),
          'law 6: signed with a bypass in place',
        );
        expectThat(judgeVisit(visit).safe !== 'no' || isLeftOff(visit), 'law 6: signed though not safe, and nothing was done about it');
        met.signed++;
        visit = answer.value;
      }
    }
  };

  for (const one of presses) {
    count++;
    timeMs += 1000;
    // what is signed takes no press: the store refuses it (main/visits)
    if (signed()) {
      expectThat(!signVisit(visit, { name: 'C. Other', wallMs: timeMs, hash: 'x' }).ok, 'signed twice');
      if (one.does !== 'turn' && one.does !== 'read' && one.does !== 'spot' && one.does !== 'undo') continue;
      act(one);
      expectThat(takeTrials(visit, run()) === visit, 'a signed visit was changed by its run');
      continue;
    }
    act(one);
    if (!signed()) visit = chosenByItself(takeTrials(takeRun(visit, run(), timeMs), run()));
    met.pressed++;
    askTheLaws();
  }

  function askTheLaws(): void {
    expectThat(Visit.safeParse(JSON.parse(JSON.stringify(visit))).success, 'law 16: the visit cannot be stored');
    const judgement = judgeVisit(visit);
    const room = visit.roomCo.at(-1)?.ppm;
    const spots = marks.filter(({ body }) => body.kind === 'smoke');
    const oilMs = spots.findLast(({ body }) => body.kind === 'smoke' && body.spots.some(({ oilTrace }) => oilTrace === true))?.timeMs;
    const isOilOpen = oilMs !== undefined && !(visit.oilCauses ?? []).some(({ wallMs }) => wallMs >= oilMs);
    const isCleanSince =
      oilMs !== undefined &&
      spots.some(({ timeMs: at, body }) => at > oilMs && body.kind === 'smoke' && body.spots.every(({ flaw }) => flaw === undefined));
    const { advice } = curveFacts(
      visit,
      '1',
      marks.findLast(({ body }) => body.kind === 'adjustment')?.body.kind === 'adjustment' ? presentOf(marks) : undefined,
    );
    const isMove = advice.setting !== undefined || advice.advice === 'less-air' || advice.advice === 'leave';

    if (isOilOpen) {
      met.oil++;
      expectThat(advice.advice === 'stop' && advice.setting === undefined, 'law 5: oil on the paper, and the work goes on');
      expectThat(judgement.safe === 'no', 'law 5: oil on the paper, and called safe');
      for (const step of ['as-found', 'warm-up', 'air-curve', 'as-left'] as const satisfies readonly StepId[])
        expectThat(['oil', 'room-co'].includes(wayOutOf(step, visit, false)?.key ?? ''), `law 17: oil, and ${step} leads elsewhere`);
    } else if (oilMs !== undefined && !isCleanSince)
      expectThat(!isMove, 'law 5: the cause is known, no other paper yet, and the work goes on');
    if (room !== undefined && room >= 35) {
      expectThat(advice.advice === 'stop' && judgement.safe === 'no', 'law 6: CO in the room');
      for (const step of stepIds) expectThat(wayOutOf(step, visit, false)?.key === 'room-co', 'law 17: CO in the room');
    }
    const now = visit.trials.findLast(({ reading }) => reading !== undefined);
    const [o2, co] = [now?.reading?.channels.o2?.mean, now?.reading?.channels.co?.mean];
    const isAlarm = o2 !== undefined && co !== undefined && (coAirFreePpm(co, o2) ?? co) >= 400;
    if (isAlarm) met.alarm++;
    if (advice.advice === 'less-air') {
      met.lessAir++;
      expectThat(!isAlarm || advice.because.includes('co-falls-towards-less-air'), 'law 1: less air with CO at the alarm');
      expectThat(o2 === undefined || o2 > 2, 'law 1: less air at the floor of O2');
      expectThat(advice.aimO2 === undefined || advice.aimO2[0] >= 2 - 1e-9, 'law 2: aimed below the floor');
    }
    if (judgement.safe === 'yes') {
      expectThat(room !== undefined && room < 9, 'law 6: safe, the room not read or not clear');
      expectThat(
        visit.bypasses.every(({ closedWallMs }) => closedWallMs !== undefined),
        'law 6: safe with a bypass in place',
      );
      const latest = new Map(visit.safety.map(({ test, result }) => [test, result]));
      expectThat(
        needed.every((test) => (latest.get(test) ?? 'fail') !== 'fail'),
        'law 6: safe with a test failed or open',
      );
      const left = visit.trials.find(({ id }) => id === visit.stages[0]?.asLeftTrialId);
      expectThat(left?.reading?.settled === true && left.smoke !== undefined, 'law 6: safe without an as-left reading and its smoke');
      expectThat(oilMs === undefined || isCleanSince, 'law 5: safe with oil on the last paper');
    }
    // the report says one thing and does it
    const deed = reportDeedOf(visit, judgement.safe === 'no' && !isLeftOff(visit), 'A. Sample', String);
    if (deed.does === 'sign')
      expectThat(signVisit(visit, { name: 'A. Sample', wallMs: timeMs, hash: 'h' }).ok, 'law 17: "Sign" is offered and refused');
  }
}

const presentOf = (marks: readonly Mark[]) => marks.flatMap(({ body }) => (body.kind === 'adjustment' ? [body.setting] : [])).at(-1);
