/**
 * Answers quicker than the lines, with stalled lines, on real ports: rounds of four instruments on four pseudo-terminals through two gases, with
 * two loops beside them that keep the processors busy. The time is led, so that the load makes it slower and never different: in each step every
 * instrument sends its line, the host takes it in, and then time goes on. Real ports, real run files, the real store, the real wire.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '../../main/app.ts';
import { openSerialPort } from '../../main/source/open-port.ts';
import type { OpenPort } from '../../main/source/serial-port.ts';
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import { createRandom, type Random } from '../../shared/burner/random.ts';
import { createClient } from '../../shared/ipc/client.ts';
import * as contract from '../../shared/ipc/contract.ts';
import { LineRecipe } from '../../shared/measurement/recipe.ts';
import { SerialSettings } from '../../shared/measurement/run.ts';
import { createFakeClock } from '../helpers/host/fake-clock.ts';
import { memoryPair } from '../helpers/host/memory-transport.ts';
import { startPty, watchedPort, type Pty } from '../helpers/ports/pty.ts';
import { AIR, HIGH, twoGases } from '../main/bench/bench-fixture.ts';
import { practiceTest } from '../shared/bench/run-plan.ts';

export type QuickPortsFigures = {
  rounds: number;
  linesSent: number;
  /** lines that were sent and are not in a run file */
  linesMissing: number;
  /** commands that were refused, with their code */
  refused: string[];
  /** rounds whose two steps were not both reached, or whose signature is not in the records */
  lost: number;
  /** stalls of 1 to 4 s: lines that never came, and lines that came all at once afterwards */
  stallsLost: number;
  stallsLate: number;
  responses: number;
  linesMissingSaid: number;
  /** figures in the records that are no numbers */
  notFinite: number;
  alarms: string[];
  /** stalls that were told as a silent source, as they should be */
  silences: number;
  minutes: number;
};

const COUNT = 4;
const STEP_MS = 500;
/** a round that takes longer than this of the led time does not come to its end */
const MOST_MS = 15 * 60_000;

const recipe = LineRecipe.parse({
  format: 'flueside-recipe',
  version: 1,
  name: 'numbered columns',
  shape: { kind: 'columns', delimiter: ',' },
  fields: [
    { channel: 'aux1', at: 0, unit: 'none' },
    { channel: 'o2', at: 1, unit: '%' },
    { channel: 'co', at: 2, unit: 'ppm' },
  ],
});

type Gas = { o2: number; co: number };
/** One instrument: how quick it answers, how often it sends, when its lines stall. */
type Instrument = {
  pty: Pty;
  random: Random;
  number: number;
  everyMs: number;
  tauMs: number;
  deadMs: number;
  from: Gas;
  to: Gas;
  switchedMs: number;
  nextMs: number;
  stalledUntilMs: number;
  /** lines of a stall that come all at once afterwards */
  held: string[] | undefined;
};

function lineOf(at: Instrument, nowMs: number): string {
  const sinceMs = nowMs - at.switchedMs - at.deadMs;
  const part = sinceMs <= 0 ? 0 : 1 - Math.exp(-sinceMs / at.tauMs);
  const value = (low: number, high: number, step: number): number =>
    Math.round((low + part * (high - low) + step * at.random.normal()) / step) * step;
  at.number += 1;
  return `${at.number},${value(at.from.o2, at.to.o2, 0.01).toFixed(2)},${value(at.from.co, at.to.co, 1).toFixed(0)}`;
}

export async function soakQuickPorts({ rounds, busyLoops = 2 }: { rounds: number; busyLoops?: number }): Promise<QuickPortsFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-quick-ports-'));
  const startedMs = performance.now();
  const clock = createFakeClock();
  const ports = new Map<string, ReturnType<typeof watchedPort>>();
  const openPort: OpenPort = (path, settings) => ports.get(path)!.openPort(path, settings);
  const app = createApp({
    clock,
    dataFolder: folder,
    version: 'soak',
    host: 'memory',
    platform: process.platform,
    listPorts: () => Promise.resolve([]),
    openPort,
  });
  const loops: ChildProcess[] = [];
  const instruments: Instrument[] = [];
  const figures: QuickPortsFigures = {
    rounds: 0,
    linesSent: 0,
    linesMissing: 0,
    refused: [],
    lost: 0,
    stallsLost: 0,
    stallsLate: 0,
    responses: 0,
    linesMissingSaid: 0,
    notFinite: 0,
    alarms: [],
    silences: 0,
    minutes: 0,
  };
  const wire = memoryPair();
  app.attach(wire.host, { clientId: 'window', key: 'key', grant: 'operator' });
  const client = createClient(wire.window, contract);
  let stepIndex = -1;
  client.on('bench.changed', ({ sessions }) => (stepIndex = sessions[0]?.stepIndex ?? stepIndex));
  client.on('problem.raised', ({ problem }) => {
    if (problem.code === 'source-silent') figures.silences += 1;
    else figures.alarms.push(problem.code);
  });
  let nowMs = 0;
  const sent = new Map<string, number>();

  /** what an instrument sends in this step; the host has it before time goes on */
  const send = async (at: Instrument, isStalling: boolean): Promise<void> => {
    if (nowMs < at.nextMs) return;
    at.nextMs += at.everyMs;
    if (isStalling && nowMs >= at.stalledUntilMs && at.random.uniform() < 0.01) {
      at.stalledUntilMs = nowMs + Math.round(at.random.between(1000, 4000));
      at.held = at.random.uniform() < 0.5 ? [] : undefined;
      figures[at.held === undefined ? 'stallsLost' : 'stallsLate'] += 1;
    }
    if (nowMs < at.stalledUntilMs) {
      at.held?.push(lineOf(at, nowMs));
      return;
    }
    const lines = [...(at.held ?? []), lineOf(at, nowMs)];
    at.held = undefined;
    for (const text of lines) {
      await at.pty.ask(`send ${text}`, 'sent');
      sent.set(at.pty.path, (sent.get(at.pty.path) ?? 0) + text.length + 2);
      figures.linesSent += 1;
    }
    const port = ports.get(at.pty.path)!;
    for (const endMs = performance.now() + 30_000; port.bytes() < sent.get(at.pty.path)!;) {
      if (performance.now() > endMs) throw new Error('a line was sent and did not come');
      await new Promise((resolve) => setTimeout(resolve, 1));
    }
  };
  const goOn = async (isStalling: boolean): Promise<void> => {
    await Promise.all(instruments.map((at) => send(at, isStalling)));
    nowMs += STEP_MS;
    await clock.advance(STEP_MS);
  };
  const until = async (isSo: () => boolean, isStalling: boolean): Promise<boolean> => {
    for (const endMs = nowMs + MOST_MS; !isSo(); await goOn(isStalling)) if (nowMs > endMs) return false;
    return true;
  };
  const asked = async <T>(
    answer: Promise<{ ok: true; value: T } | { ok: false; error: { code: string; detail?: string | undefined } }>,
  ) => {
    const done = await answer;
    if (done.ok) return done.value;
    figures.refused.push(`${done.error.code} ${done.error.detail ?? ''}`);
    return undefined;
  };

  try {
    for (let i = 0; i < COUNT; i++) {
      const pty = await startPty();
      ports.set(pty.path, watchedPort(openSerialPort));
      instruments.push({
        pty,
        random: createRandom(i + 1, 'quick ports'),
        number: 0,
        everyMs: 1000,
        tauMs: 50,
        deadMs: 0,
        from: AIR,
        to: AIR,
        switchedMs: 0,
        nextMs: 0,
        stalledUntilMs: 0,
        held: undefined,
      });
    }
    for (let i = 0; i < busyLoops; i++) loops.push(spawn(process.execPath, ['-e', 'for (;;) {}'], { stdio: 'ignore' }));
    await client.call('session.hello', {});
    const runIds: string[] = [];
    for (const { pty } of instruments) {
      const started = await asked(
        client.call('run.start', { source: { kind: 'serial', path: pty.path, settings: SerialSettings.parse({}) }, recipe }),
      );
      if (started === undefined) return figures;
      runIds.push(started.runId);
      await asked(client.call('run.compareDisplay', { runId: started.runId, agrees: true }));
    }
    const { instrument, gases } = practiceTest(twoGases);
    for (let group = 0; figures.rounds < rounds; group++) {
      instruments.forEach((at, i) => {
        at.everyMs = [500, 1000][(group + i) % 2]!;
        at.tauMs = [1, 50, 100, 200][(group + 2 * i) % 4]!;
        at.nextMs = nowMs;
      });
      for (const untilMs = nowMs + 3000; nowMs < untilMs;) await goOn(false);
      const seats = Math.min(COUNT, rounds - figures.rounds);
      const started = await asked(
        client.call('bench.start', {
          seats: runIds.slice(0, seats).map((runId, i) => ({
            runId,
            instrumentId: `i${i + 1}`,
            instrument: { ...instrument, name: `Instrument ${i + 1}` },
          })),
          plan: twoGases,
          gases: gases.map((use) => ({ ...use, gas: { ...use.gas, serial: `bottle ${use.slot}` } })),
          room: { dried: true, place: 'yard' },
          limits: 'none',
        }),
      );
      figures.rounds += seats;
      if (started === undefined) {
        figures.lost += seats;
        continue;
      }
      const { testIds } = started;
      stepIndex = 0;
      for (const [index, gas] of [AIR, HIGH].entries()) {
        for (const at of instruments) {
          at.from = at.to;
          at.to = gas;
          at.switchedMs = nowMs;
          at.deadMs = at.random.between(0, 1500);
        }
        await asked(client.call('bench.press', { testIds, stepId: `s${index + 1}` }));
        await until(() => stepIndex > index, true);
      }
      for (const testId of testIds) {
        await asked(client.call('bench.sign', { testId, name: 'B. Tester' }));
        const stored = await asked(client.call('document.get', { kind: 'bench-test', id: testId }));
        judge(stored?.body as BenchTest | undefined, figures);
      }
      // what is known of the run stays; what the window was told is not needed
      wire.sent.length = 0;
      for (const at of instruments) [at.from, at.to] = [AIR, AIR];
    }
    for (const untilMs = nowMs + 3000; nowMs < untilMs;) await goOn(false);
    for (const runId of runIds) await asked(client.call('run.end', { runId }));
    const kept = readdirSync(join(folder, 'runs'))
      .filter((name) => name.endsWith('.run'))
      .map(
        (name) =>
          readFileSync(join(folder, 'runs', name), 'latin1')
            .split('\n')
            .filter((text) => /^\d+\tline\t/.test(text)).length,
      );
    figures.linesMissing = figures.linesSent - kept.reduce((sum, count) => sum + count, 0);
    figures.minutes = Math.round((performance.now() - startedMs) / 6000) / 10;
    return figures;
  } finally {
    for (const loop of loops) loop.kill('SIGKILL');
    await app.close('by-person');
    await Promise.all(instruments.map(({ pty }) => pty.stop()));
    rmSync(folder, { recursive: true, force: true });
  }
}

function judge(test: BenchTest | undefined, figures: QuickPortsFigures): void {
  const steps = test?.rounds[0]?.steps ?? [];
  if (steps.length !== 2 || steps.some(({ end }) => end !== 'reached') || test?.signature === undefined) figures.lost += 1;
  figures.notFinite += JSON.stringify(steps).split('null').length - 1;
  for (const { application, linesMissing } of steps) {
    if (Object.values(application?.channels ?? {}).some(({ response }) => response !== undefined)) figures.responses += 1;
    if (linesMissing !== undefined) figures.linesMissingSaid += 1;
  }
}
