/**
 * `npm run speed [-- NAME ...]`: times and ratios. Ratios are against a named baseline of the same run; absolute figures belong to the machine
 * that is named in the first line. At the end stands the table of what a person waits for, with its goals; it is also written into `dist/speed.md`.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import { goalTable } from './goals.ts';
import type { SpeedReport } from './speed-report.ts';

const programs: Record<string, () => Promise<(report: SpeedReport) => Promise<void>>> = {
  combustion: async () => (await import('./combustion.ts')).speedCombustion,
  lines: async () => (await import('./lines.ts')).speedLines,
  charts: async () => (await import('./charts.ts')).speedCharts,
  overlay: async () => (await import('./overlay.ts')).speedOverlay,
  store: async () => (await import('./store.ts')).speedStore,
  runs: async () => (await import('./runs.ts')).speedRuns,
  'day-window': async () => (await import('./day-window.ts')).speedDayWindow,
  script: async () => (await import('./script.ts')).speedScript,
  preview: async () => (await import('./preview.ts')).speedPreview,
  office: async () => (await import('./office.ts')).speedOffice,
  start: async () => (await import('./start.ts')).speedStart,
  live: async () => (await import('./live.ts')).speedLive,
  flood: async () => (await import('./flood.ts')).speedFlood,
  settling: async () => (await import('./settling.ts')).speedSettling,
};

const chosen = process.argv.slice(2);
const names = chosen.length === 0 ? Object.keys(programs) : chosen;
const machine = `${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, ${Math.round(totalmem() / 2 ** 30)} GiB, Node ${process.version}`;
const figures: { name: string; value: number; unit: string; repeats: number }[] = [];
console.log(machine);
for (const name of names) {
  const load = programs[name];
  if (load === undefined) {
    console.error(`There is no speed program '${name}'. There are: ${Object.keys(programs).join(', ')}.`);
    process.exitCode = 2;
    continue;
  }
  console.log(`\n${name}`);
  const run = await load();
  await run((what, value, unit, note = '', repeats = 1) => {
    figures.push({ name: what, value, unit, repeats });
    console.log(`  ${what.padEnd(58)} ${format(value).padStart(12)} ${unit.padEnd(14)} ${note}`);
  });
}
const table = goalTable(machine, figures);
mkdirSync('dist', { recursive: true });
writeFileSync('dist/speed.md', `${table.join('\n')}\n`);
console.log(`\n${table.join('\n')}`);

function format(value: number): string {
  const size = Math.abs(value);
  return size >= 1000 ? Math.round(value).toLocaleString('en') : size >= 10 ? value.toFixed(1) : value.toFixed(3);
}
