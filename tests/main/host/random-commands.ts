/** Commands of two people at two windows in any order, also several at once, against a whole host; and what must be true after each. */
import { createRandom } from '../../../shared/burner/random.ts';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import type { CallInput, CommandName, Output } from '../../../shared/ipc/contract.ts';
import type { StoredBenchTest } from '../../../shared/ipc/bench-commands.ts';
import type { StoredVisit } from '../../../shared/ipc/store-commands.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { problemLine } from '../../../shared/words/problems.ts';
import { leftOff } from '../../helpers/visits/left-off.ts';
import { practiceTest, twoGases as plan } from '../../shared/bench/run-plan.ts';
import { alarmsOf, eventsOf, isSame, stateOf } from './same-in-both.ts';
import { FLUE, FRESH_AIR, must, openHost, SPAN, type Gas, type HostWindow, type WholeHost } from './whole-host.ts';

export type Play = { readonly commands: number; readonly refused: ReadonlyMap<string, number>; readonly faults: readonly string[] };

export async function playCommands(seed: number, turns: number): Promise<Play> {
  const random = createRandom(seed, 'commands of two windows');
  const host = openHost();
  const rejected: unknown[] = [];
  const onRejection = (why: unknown): void => void rejected.push(why);
  process.on('unhandledRejection', onRejection);
  try {
    const game = await begin(host, random.uniform);
    for (let turn = 0; turn < turns && game.faults.length === 0; turn++) await game.turn();
    await game.checkRuns();
    game.faults.push(...rejected.map((why) => `a rejection that nobody handled: ${String(why)}`));
    game.faults.push(...host.failures.map(({ where, failure }) => `a crash in ${where}: ${String(failure)}`));
    return { commands: game.count(), refused: game.refused, faults: game.faults.map((fault) => `seed ${seed}: ${fault}\n${game.story()}`) };
  } finally {
    await host.close();
    process.off('unhandledRejection', onRejection);
  }
}

async function begin(host: WholeHost, uniform: () => number) {
  const windows = [await host.openWindow(), await host.openWindow()] as const;
  const pick = <T>(list: readonly T[]): T | undefined => list[Math.floor(uniform() * list.length)];
  const gases: Record<string, Gas> = { flue: FLUE, bench: FRESH_AIR };
  const runs: Record<string, string> = {};
  for (const path of Object.keys(gases)) runs[path] = await host.connect(windows[0], path, gases[path]!);
  const practice = must(await windows[0].command('run.start', { source: { kind: 'simulated' } })).runId;

  const faults: string[] = [];
  const told: string[] = [];
  const refused = new Map<string, number>();
  let count = 0;
  let texts = 0;
  /** visits and tests that were made, and those that were taken away again */
  const visits = new Set<string>();
  const removed = new Set<string>();
  const tests = new Set<string>();
  /** what was confirmed: notes by visit, marks by run */
  const notes: { id: string; text: string }[] = [];
  const marks: { runId: string; id: string }[] = [];
  const readings: { runId: string; id: string }[] = [];
  const undone = new Set<string>();
  /** as they were when they were signed */
  const signedVisits = new Map<string, Visit>();
  const signedTests = new Map<string, BenchTest>();
  /** steps when somebody said that nothing more is measured */
  const ended = new Set<string>();

  async function send<K extends CommandName>(window: HostWindow, name: K, input: CallInput<K>): Promise<Result<Output<K>, Problem>> {
    count++;
    const line = `${window.name}: ${name} ${JSON.stringify(input).slice(0, 160)}`;
    told.push(line);
    const answer = await window.command(name, input);
    told.push(`  ${name} -> ${answer.ok ? 'ok' : `${answer.error.code} ${answer.error.detail ?? ''}`}`);
    if (!answer.ok) {
      const { code } = answer.error;
      refused.set(`${name}: ${code}`, (refused.get(`${name}: ${code}`) ?? 0) + 1);
      if (code === 'internal' || code === 'request-invalid') faults.push(`${line} was answered with ${code} ${answer.error.detail ?? ''}`);
      if (problemLine(answer.error).length < 12) faults.push(`${code} says nothing`);
    }
    return answer;
  }
  const note = (text: string) => [{ path: ['notes', '-'], after: { wallMs: 1, text } }];
  /** mostly one that is there; sometimes one that was taken away, or never was */
  const visitId = (): string => pick(uniform() < 0.9 ? [...visits].filter((id) => !removed.has(id)).slice(-3) : [...removed]) ?? 'none';
  const testIds = (): string[] => [pick([...tests].slice(-3)) ?? 'none'];
  const run = (): string => pick([runs['flue']!, runs['flue']!, runs['bench']!, practice]) ?? '';
  const stepId = (): string => pick(['s1', 's2', 's1r2', 's2r2']) ?? '';
  const adjusted = (value: number) => ({ kind: 'adjustment' as const, setting: { stage: '1', positions: [{ name: 'shutter', value }] } });

  const deeds: Record<string, (window: HostWindow) => Promise<unknown>> = {
    async begin(window) {
      const made = await send(window, 'visit.begin', { kind: pick(['service', 'service', 'training'])!, runId: run() });
      if (made.ok) visits.add(made.value.visit.id);
    },
    open: (window) => send(window, 'visit.open', { id: visitId(), runId: run() }),
    leave: (window) => send(window, 'visit.leave', {}),
    async note(window) {
      const [id, text] = [visitId(), `note ${++texts}`];
      const done = await send(window, 'visit.edit', { id, changes: note(text) });
      if (done.ok) notes.push({ id, text });
    },
    typed: (window) => send(window, 'visit.edit', { id: visitId(), changes: [{ path: ['airTypedC'], after: Math.round(uniform() * 30) }] }),
    goTo: (window) => send(window, 'visit.goTo', { id: visitId(), step: pick(['start', 'safety', 'air-curve'])!, stage: '1' }),
    watch: (window) =>
      send(window, 'visit.watch', { id: visitId(), test: 'flame-failure', act: pick(['press', 'lap', 'reset'])!, runId: run() }),
    async sign(window) {
      const id = visitId();
      if (uniform() < 0.7) await send(window, 'visit.edit', { id, changes: [{ path: ['notLeftRunning'], after: leftOff }] });
      const done = await send(window, 'visit.sign', { id, name: 'A. Sample' });
      if (done.ok) signedVisits.set(id, done.value.visit);
    },
    close: (window) => (uniform() < 0.3 ? send(window, 'visit.close', { id: visitId() }) : Promise.resolve()),
    async remove(window) {
      if (uniform() < 0.5) return;
      const id = visitId();
      const done = await send(window, 'visit.remove', { id });
      if (done.ok) removed.add(id);
    },
    async smoke(window) {
      const runId = run();
      const done = await send(window, 'run.mark', { runId, body: { kind: 'smoke', spots: [{ number: 1 }] } });
      if (done.ok) marks.push({ runId, id: done.value.id });
    },
    async turn(window) {
      const runId = run();
      const done = await send(window, 'run.mark', { runId, body: adjusted(Math.round(uniform() * 10)) });
      if (done.ok) marks.push({ runId, id: done.value.id });
    },
    async undo(window) {
      const mark = pick(marks);
      if (mark === undefined) return;
      const done = await send(window, 'run.editMark', { runId: mark.runId, edit: { kind: 'undone', markId: mark.id } });
      if (done.ok) undone.add(mark.id);
    },
    async reading(window) {
      const runId = run();
      const done = await send(window, 'run.takeReading', { runId });
      if (done.ok) readings.push({ runId, id: done.value.id });
    },
    async settings(window) {
      await send(window, 'settings.change', { patch: { tolerances: { o2Percent: 0.1 + Math.round(uniform() * 10) / 20 } } });
    },
    async endRun(window) {
      if (uniform() < 0.8) return;
      const path = pick(['flue', 'bench'])!;
      await send(window, 'run.end', { runId: runs[path]! });
      runs[path] = await host.connect(window, path, gases[path]!);
    },
    async benchStart(window) {
      const { instrument, gases: bottles, room } = practiceTest(plan);
      const done = await send(window, 'bench.start', {
        seats: [{ runId: pick([runs['bench']!, runs['bench']!, practice])!, instrumentId: `i${tests.size}`, instrument }],
        plan,
        gases: bottles.map((use) => ({ ...use, gas: uniform() < 0.7 ? { ...use.gas, serial: 'bottle 1' } : use.gas })),
        room: { ...room, place: 'yard' },
        limits: 'none',
      });
      if (done.ok) done.value.testIds.forEach((id) => tests.add(id));
    },
    benchResume: (window) => send(window, 'bench.resume', { testIds: pick([testIds(), [...new Set([...testIds(), ...testIds()])]])! }),
    benchPress: (window) => send(window, 'bench.press', { testIds: testIds(), stepId: stepId() }),
    benchSkip: (window) =>
      send(window, 'bench.skip', {
        testIds: testIds(),
        stepId: stepId(),
        how: pick(['not-reached', 'left-out', 'rest'])!,
        why: 'a reason',
      }),
    benchAccept: (window) => send(window, 'bench.accept', { testId: testIds()[0]!, stepId: stepId() }),
    benchMove: (window) => send(window, 'bench.move', { testId: testIds()[0]!, runId: run() }),
    async benchAdjust(window) {
      const [testId] = testIds();
      const done = await send(window, 'bench.adjust', { testId: testId!, adjustment: 'zero was set' });
      if (done.ok) ended.delete(testId!);
    },
    async benchRepeat(window) {
      const [testId] = testIds();
      const done = await send(window, 'bench.repeat', { testIds: [testId!], stepId: stepId() });
      if (done.ok) ended.delete(testId!);
    },
    benchLimits: (window) =>
      send(window, 'bench.limits', { testId: testIds()[0]!, limits: { ...exampleLimits[1]!, decisionRule: 'simple' } }),
    async benchClose(window) {
      const [testId] = testIds();
      const done = await send(window, 'bench.close', { testId: testId! });
      if (done.ok) ended.add(testId!);
    },
    async benchSign(window) {
      const [testId] = testIds();
      const done = await send(window, 'bench.sign', { testId: testId!, name: 'B. Tester' });
      if (done.ok) signedTests.set(testId!, done.value.body);
    },
    async gas() {
      gases['bench'] = pick([FRESH_AIR, SPAN])!;
      told.push(`gas ${gases['bench'].o2}`);
      await host.pass(40, gases);
    },
    wait: () => host.pass(Math.ceil(uniform() * 6), gases),
  };
  const names = Object.keys(deeds);
  await deeds['begin']!(windows[0]);
  await deeds['benchStart']!(windows[1]);

  async function check(): Promise<void> {
    await host.settle();
    const [first, second] = windows;
    for (const id of visits) {
      const got = await first.call('visit.get', { id });
      if (got.ok === removed.has(id)) faults.push(`visit ${id} is ${got.ok ? 'there' : 'gone'}`);
      if (!got.ok) continue;
      const stored = got.value;
      const signed = signedVisits.get(id);
      if (signed !== undefined && !isSame({ ...stored.visit, edits: [] }, { ...signed, edits: [] }))
        faults.push(`signed visit ${id} changed`);
      if (stored.altered === true) faults.push(`signed visit ${id} is altered`);
      for (const window of windows) {
        const last = window.last('visit.changed', ({ visit }: StoredVisit) => visit.id === id);
        if (last !== undefined && !isSame(last, stored)) faults.push(`${window.name} shows another state of visit ${id}`);
      }
      for (const { id: of, text } of notes)
        if (of === id && stored.visit.notes.filter((one) => one.text === text).length !== 1) faults.push(`${text} of visit ${id} is lost`);
    }
    for (const id of tests) {
      const got = await first.call('document.get', { kind: 'bench-test', id });
      if (!got.ok) {
        faults.push(`test ${id} is gone`);
        continue;
      }
      const body = got.value.body as unknown as BenchTest;
      const signed = signedTests.get(id);
      if (signed !== undefined && !isSame(body, signed)) faults.push(`signed test ${id} changed`);
      if (got.value.altered === true) faults.push(`signed test ${id} is altered`);
      if (ended.has(id) && body.status !== 'done') faults.push(`test ${id} was ended, and is open again`);
      for (const round of body.rounds)
        round.steps.forEach((step, at) => {
          if (step.stepId !== body.plan.steps[at]?.id)
            faults.push(`test ${id}: step ${step.stepId} is where ${body.plan.steps[at]?.id} belongs`);
        });
      if (body.runId === practice && body.watermark === undefined) faults.push(`test ${id} reads practice and says nothing of it`);
      for (const window of windows) {
        const last = window.told
          .filter(({ name }) => name === 'bench.changed')
          .flatMap(({ payload }) => (payload as { tests: StoredBenchTest[] }).tests)
          .findLast((one) => one.id === id);
        if (last !== undefined && !isSame(last.body, body)) faults.push(`${window.name} shows another state of test ${id}`);
      }
    }
    const state = must(await first.call('bench.state', {}));
    for (const window of windows) {
      const last = window.last('bench.changed');
      if (last !== undefined && !isSame(last.sessions.map(stateOf), state.sessions.map(stateOf)))
        faults.push(`${window.name} shows another bench`);
      const front = window.last('visit.front');
      const now = must(await window.call('visit.now', {}));
      if (front !== undefined && front.stored?.visit.id !== now.front.stored?.visit.id)
        faults.push(`${window.name} has another visit in front`);
    }
    for (const window of windows) {
      for (const key of alarmsOf(window))
        if (key.startsWith('bench:') || key.startsWith('visit-')) faults.push(`${key} stands: something is not saved`);
    }
    if (!isSame(eventsOf(first), eventsOf(second))) faults.push('the two windows were not told the same');
  }

  /** what was confirmed of the runs is in them, once */
  async function checkRuns(): Promise<void> {
    for (const runId of new Set([...marks, ...readings].map((one) => one.runId))) {
      const history = must(await windows[0].call('run.history', { runId, fromMs: 0, toMs: 1e9, buckets: 10 }));
      for (const { id } of marks.filter((one) => one.runId === runId)) {
        const found = history.marks.filter((one) => one.id === id).length;
        if (found !== (undone.has(id) ? 0 : 1)) faults.push(`mark ${id} is there ${found} times`);
      }
      for (const { id } of readings.filter((one) => one.runId === runId))
        if (history.readings.filter((one) => one.id === id).length !== 1) faults.push(`reading ${id} is lost`);
    }
  }

  return {
    checkRuns,
    faults,
    refused,
    count: () => count,
    story: () => told.slice(-60).join('\n'),
    async turn() {
      const many = uniform() < 0.5 ? 1 : 1 + Math.floor(uniform() * 4);
      await Promise.all(
        Array.from({ length: many }, async () => {
          const name = pick(names)!;
          // several at once, not all within one turn of the machine
          if (many > 1) for (let i = Math.floor(uniform() * 6); i > 0; i--) await Promise.resolve();
          await deeds[name]!(windows[uniform() < 0.5 ? 0 : 1]);
        }),
      );
      await check();
    },
  };
}
