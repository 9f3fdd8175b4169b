/** A long stored run: a boiler that runs and stops, an hour of the simulated burner at ten lines a second, over and over. */
import { closeSync, mkdirSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { encodeEntry, encodeHeader } from '../../shared/measurement/run-format.ts';
import { burnerLines, columnsRecipe, runHeader } from './ports/run-lines.ts';

export const DAY_LINES = 864_000;

/** @returns the path of `runs/RUNID.run` below the folder */
export function writeDayRun(dataFolder: string, runId: string, lines = DAY_LINES): string {
  const runs = join(dataFolder, 'runs');
  mkdirSync(runs, { recursive: true });
  const path = join(runs, `${runId}.run`);
  const file = openSync(path, 'w');
  writeSync(file, encodeHeader(runHeader({ runId, recipe: { ...columnsRecipe, time: { kind: 'arrival' } } })), null, 'latin1');
  const hour = burnerLines({ seconds: 3600, ratePerSecond: 10 }).filter(({ bytes }) => /^\d/.test(bytes));
  let timeMs = 0;
  for (let from = 0, count = 0; count < lines; from += 3_600_000) {
    const rows: string[] = [];
    for (const line of hour.slice(0, Math.min(hour.length, 36_000, lines - count))) {
      timeMs = from + (line.timeMs % 3_600_000);
      rows.push(encodeEntry({ kind: 'line', timeMs, bytes: line.bytes }));
      count++;
    }
    writeSync(file, rows.join(''), null, 'latin1');
  }
  writeSync(file, encodeEntry({ kind: 'end', timeMs: timeMs + 1000 }), null, 'latin1');
  closeSync(file);
  return path;
}
