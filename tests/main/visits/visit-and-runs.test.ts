/** A visit and its runs: what comes into it, what it takes, what it gives up. */
import { describe, expect, it } from 'vitest';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { codeOf, value } from '../../helpers/ports/run-service.ts';
import { infoOf } from '../../renderer/helpers/records.ts';
import {
  caller,
  clock,
  records,
  service,
  told,
  burners,
  runs,
  of,
  last,
  openService,
  startRun,
  mark,
  turn,
  read,
  begin,
  stored,
  openForEachTest,
} from './visits-in-the-host.ts';

openForEachTest();

describe('a visit and its runs', () => {
  it('takes the run on screen in, and its trials as they come, without any window', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    expect((await stored(id)).runs).toMatchObject([{ id: runId, source: 'port' }]);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    turn(runId, 30_000, 6);
    await clock.advance(50);
    read(runId, 'two', { fromMs: 50_000, toMs: 70_000 });
    await clock.advance(500);
    const visit = await stored(id);
    expect(visit.trials.map(({ setting, reading }) => [setting.positions[0]?.value, reading?.id])).toEqual([
      [7, 'one'],
      [6, 'two'],
    ]);
    // nobody typed that: it is in no list of edits
    expect(visit.edits).toEqual([]);
    expect(last('visit.trials')).toMatchObject({
      runId,
      trials: [
        { number: 1, running: false },
        { number: 2, running: true },
      ],
    });
  });

  it('sets the simulated burner as the gauge says, when a figure is measured and when it is set anew', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    expect(burners.has(runId)).toBe(false);
    const geometry = { card: trainingCards[1], tubeEnd: 'straight', arrangement: 'two' };
    const put = (rows: object) =>
      service.handlers['visit.edit'](
        {
          id,
          changes: [
            { path: ['setUp', 'lengthUnit'], after: 'inch' },
            { path: ['setUp', 'geometry'], after: { ...geometry, rows } as never },
          ],
        },
        caller,
      );
    value(await put({ heightAboveCentreline: { asFound: '7/16' } }));
    // card 1/2 ±1/32 in: the tips are 1/32 in below its lower limit
    expect(burners.get(runId)?.heightAboveCentreline).toBeCloseTo(-25.4 / 32, 6);
    value(await put({ heightAboveCentreline: { asFound: '7/16', asLeft: '1/2' } }));
    expect(burners.get(runId)?.heightAboveCentreline).toBe(0);
  });
  it('has what a person marked in every window within 300 ms', async () => {
    const runId = startRun();
    await begin('service', runId);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    await clock.advance(1000);
    told.length = 0;
    mark(runId, { kind: 'smoke', spots: [{ number: 1 }] }, 26_000);
    await clock.advance(300);
    expect(last('visit.changed')?.visit.trials[0]?.smoke?.spots).toEqual([{ number: 1 }]);
    expect(last('visit.trials')?.trials[0]?.smoke?.spots).toEqual([{ number: 1 }]);
  });

  it('takes the check after tightening as a trial of its own, and an undone mark back', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    turn(runId, 30_000, 6);
    read(runId, 'two', { fromMs: 35_000, toMs: 50_000 });
    const tight = turn(runId, 60_000, 6);
    read(runId, 'three', { fromMs: 65_000, toMs: 80_000 });
    await clock.advance(500);
    expect((await stored(id)).trials.map(({ reading }) => reading?.id)).toEqual(['one', 'two', 'three']);
    const run = runs.get(runId)!;
    run.marks = run.marks.filter((one) => one !== tight);
    run.readings = run.readings.filter(({ id: one }) => one !== 'three');
    service.told(runId, { kind: 'edit' });
    await clock.advance(500);
    expect((await stored(id)).trials.map(({ reading }) => reading?.id)).toEqual(['one', 'two']);
  });

  it('keeps practice out of a service visit, and an ended run out of any', async () => {
    const { id } = await begin('service');
    const practice = startRun({ runId: 'practice', source: { kind: 'simulated', scenario: 'a', title: 'A', seed: 1, shape: 'columns' } });
    await service.handlers['visit.open']({ id, runId: practice }, caller);
    const ended = startRun({ runId: 'ended', phase: 'ended' });
    await service.handlers['visit.open']({ id, runId: ended }, caller);
    await clock.advance(500);
    expect((await stored(id)).runs).toEqual([]);
    const training = await begin('training', practice);
    expect((await stored(training.id)).runs).toMatchObject([{ id: practice, source: 'simulated' }]);
  });

  it('goes on where it was when the host starts again: the run finds its visit, and the visit is in front', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    turn(runId, 30_000, 6);
    await clock.advance(500);
    const { marks, readings } = runs.get(runId)!;
    // killed: nothing is closed in order
    records.close();
    told.length = 0;
    openService();
    runs.set(runId, { info: infoOf({ startWallMs: clock.wallMs() }), marks, readings });
    service.told(runId, { kind: 'resumed' });
    await clock.advance(500);
    expect(last('visit.front')?.stored?.visit.id).toBe(id);
    read(runId, 'two', { fromMs: 50_000, toMs: 70_000 });
    await clock.advance(500);
    expect((await stored(id)).trials.map(({ setting, reading }) => [setting.positions[0]?.value, reading?.id])).toEqual([
      [7, 'one'],
      [6, 'two'],
    ]);
  });

  it('goes on after it was put aside, and comes to a second visit no more', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    await service.handlers['visit.leave']({}, caller);
    expect(last('visit.front')).toEqual({});
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    await clock.advance(500);
    expect((await stored(id)).trials).toHaveLength(1);
  });

  it('gives the run the fuel of the visit that takes it in', async () => {
    const { id } = await begin('service');
    await service.handlers['visit.edit']({ id, changes: [{ path: ['fuelId'], after: 'b20' }] }, caller);
    const runId = startRun({ fuelId: 'no2' });
    await service.handlers['visit.open']({ id, runId }, caller);
    expect(runs.get(runId)?.info.fuelId).toBe('b20');
  });

  it('gives its runs the fuel and the CO2max that are said while they run; another fuel takes the CO2max along', async () => {
    const runId = startRun({ fuelId: 'no2' });
    const { id } = await begin('service', runId);
    const edit = async (path: string[], after?: unknown) =>
      service.handlers['visit.edit']({ id, changes: [{ path, ...(after !== undefined && { after: after as never }) }] }, caller);
    const fuel = () => [runs.get(runId)?.info.fuelId, runs.get(runId)?.info.co2MaxPercent];
    await edit(['co2MaxPercent'], 15.2);
    expect(fuel()).toEqual(['no2', 15.2]);
    expect(codeOf(await edit(['co2MaxPercent'], 11.8))).toBe('value-out-of-range');
    expect((await stored(id)).co2MaxPercent).toBe(15.2);
    await edit(['fuelId'], 'no1');
    expect(fuel()).toEqual(['no1', undefined]);
    expect((await stored(id)).co2MaxPercent).toBeUndefined();
    await edit(['co2MaxPercent'], 15);
    await edit(['co2MaxPercent']);
    expect(fuel()).toEqual(['no1', undefined]);
  });

  it('gives them to a run that is begun for the visit', async () => {
    const { id } = await begin('service');
    const changes = [
      { path: ['fuelId'], after: 'b20' },
      { path: ['co2MaxPercent'], after: 15.3 },
    ];
    value(await service.handlers['visit.edit']({ id, changes }, caller));
    const runId = startRun({ fuelId: 'no2', visitId: id });
    await clock.advance(50);
    expect(runs.get(runId)?.info).toMatchObject({ fuelId: 'b20', co2MaxPercent: 15.3 });
  });
});

describe('hints', () => {
  it('come from the samples, with or without a visit and a window, and are told when they change', async () => {
    const runId = startRun();
    // an oxygen cell that says more than air holds
    for (let second = 0; second < 120; second++)
      service.told(runId, { kind: 'sample', sample: { timeMs: second * 1000, values: { o2: 23.5, co: 10, stackTemperature: 200 } } });
    await clock.advance(5100);
    expect(last('visit.hints')).toMatchObject({ runId });
    expect(last('visit.hints')?.hints.map(({ pattern }) => pattern)).toContain('impossible-o2');
    const count = of('visit.hints').length;
    await clock.advance(20_000);
    expect(of('visit.hints')).toHaveLength(count);
  });
});
