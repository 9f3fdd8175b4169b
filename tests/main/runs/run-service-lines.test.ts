/** Typed values, exports, watched lines and recipe files. */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CommandName } from '../../../shared/ipc/contract.ts';
import { codeOf, operator, startSimulated, value } from '../../helpers/ports/run-service.ts';
import { columnsRecipe } from '../../helpers/ports/run-lines.ts';
import { testRunService, closeAfterEachTest } from './run-service-parts.ts';

closeAfterEachTest();

describe('lines, exports and recipes of the run service', () => {
  it('serves an instrument without a port: typed values, a reading, and the line they became', async () => {
    const { runService, folder } = testRunService();
    const { runId } = value(await runService.handlers['run.start']({ source: { kind: 'typed' } }, operator));
    expect(codeOf(await runService.handlers['run.takeReading']({ runId }, operator))).toBe('no-samples');
    value(
      await runService.handlers['run.typeValues'](
        { runId, values: { o2: 4.5, co: 12, stackTemperature: 210, airTemperature: 20 } },
        operator,
      ),
    );
    const reading = value(await runService.handlers['run.takeReading']({ runId }, operator));
    expect(reading).toMatchObject({ scope: 'full', channels: { o2: { mean: 4.5, typed: true } } });
    await runService.close();
    expect(readFileSync(join(folder, 'runs', `${runId}.run`), 'latin1')).toContain(
      '\tline\to2=4.5 co=12 stackTemperature=210 airTemperature=20\n',
    );
  });

  it('exports with units, defused formulas and the watermark of simulated data', async () => {
    const { runService, clock } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(3000);
    await runService.handlers['run.mark']({ runId, body: { kind: 'note', text: '=1+1, "x"' } }, operator);
    const fetch = async (form: 'csv' | 'json' | 'text' | 'run') => {
      const { download, fileName } = value(await runService.handlers['run.export']({ runId, form }, operator));
      const found = runService.takeDownload(download);
      expect(runService.takeDownload(download)).toBeUndefined(); // once
      expect(fileName).not.toMatch(/[:\\/]/);
      return readFileSync(found?.filePath as string, 'utf8');
    };
    const csv = (await fetch('csv')).split('\r\n');
    expect(csv[0]).toBe('SIMULATED DATA - not a measurement');
    expect(csv[1]).toBe(
      'Time [s],Local time,O2 [%],CO [ppm],Stack [°C],Air [°C],Draft [Pa],Not measured,Event'.replace(
        ',Draft [Pa]',
        csv[1]?.includes('Draft') === true ? ',Draft [Pa]' : '',
      ),
    );
    expect(csv.at(-2)).toContain(`"'=1+1, ""x"""`);
    const json = JSON.parse(await fetch('json')) as { watermark: string; samples: number[][]; columns: string[] };
    expect(json.watermark).toContain('SIMULATED');
    expect(json.samples).toHaveLength(4);
    expect(await fetch('text')).toMatch(/^# SIMULATED DATA/);
    expect(await fetch('run')).toMatch(/^\{"format":"flueside-run"/);
  });

  it('tells a window that comes between two lines what was measured last', async () => {
    const { runService, clock, of } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(5400);
    const told = of('live.batch').length;
    await clock.advance(200);
    expect(of('live.batch')).toHaveLength(told);
    runService.tellAnew();
    await clock.advance(200);
    const [batch, ...more] = of('live.batch').slice(told);
    expect(more).toEqual([]);
    expect(batch?.samples).toEqual([]);
    const { last } = value(await runService.handlers['run.history']({ runId, fromMs: 0, toMs: 6000, buckets: 100 }, operator));
    expect(last).toMatchObject({ timeMs: 5000, values: { o2: of('live.batch')[told - 1]?.samples.at(-1)?.values.o2 } });
  });

  it('shows lines to those who watch, and to nobody after they left', async () => {
    const { runService, clock, of } = testRunService();
    const { runId } = await startSimulated(runService);
    await clock.advance(5000);
    const { lines } = value(await runService.handlers['run.lines']({ runId, count: 3, watch: true }, operator));
    expect(lines.map(({ mark }) => mark)).toEqual(['read', 'read', 'read']);
    await clock.advance(2100);
    const watched = of('lines.batch').flatMap((batch) => batch.lines);
    expect(watched).toHaveLength(2);
    expect(watched[0]?.spans?.some(({ channel }) => channel === 'o2')).toBe(true);
    runService.clientLeft('window-1');
    await clock.advance(2000);
    expect(of('lines.batch').flatMap((batch) => batch.lines)).toHaveLength(2);
  });

  it('keeps recipes as files, whole or not at all, and never outside its folder', async () => {
    const { runService, folder } = testRunService();
    const name = '../../evil "recipe" \u0000';
    value(await runService.handlers['recipe.save']({ recipe: { ...columnsRecipe, name } }, operator));
    expect(readdirSync(join(folder, 'recipes'))).toHaveLength(1);
    expect(value(await runService.handlers['recipe.list']({}, operator)).recipes.some((recipe) => recipe.name === name)).toBe(true);
    value(await runService.handlers['recipe.remove']({ name }, operator));
    expect(readdirSync(join(folder, 'recipes'))).toEqual([]);
    expect(codeOf(await runService.handlers['recipe.remove']({ name }, operator))).toBe('recipe-not-found');
  });

  it.each<[CommandName, object]>([
    ['run.end', {}],
    ['run.continue', {}],
    ['run.mark', { body: { kind: 'note', text: 'x' } }],
    ['run.takeReading', {}],
    ['run.history', { fromMs: 0, toMs: 1, buckets: 10 }],
    ['run.lines', { count: 1, watch: false }],
    ['run.export', { form: 'csv' }],
    ['simulator.look', {}],
    ['replay.control', { playing: true }],
  ])('%s of a run that is not there says so, and no id leaves the folder', async (name, input) => {
    const { runService } = testRunService();
    for (const runId of ['nobody', '../../etc/passwd', 'a/b', '..', '\u0000']) {
      const handler = runService.handlers[name as keyof typeof runService.handlers] as (
        input: object,
        caller: typeof operator,
      ) => Promise<{ ok: boolean }>;
      expect(codeOf((await handler({ runId, ...input }, operator)) as never)).toBe('run-not-found');
    }
  });
});
