/** Two thousand lines a second beside four open windows: what a press waits for what it shows, and whether a line is lost. */
import { noPty } from '../helpers/ports/pty.ts';
import { soakWindow } from '../soak/window.ts';
import type { SpeedReport } from './speed-report.ts';

const SECONDS = Number(process.env['FLUESIDE_FLOOD_SECONDS'] ?? 30);

export async function speedFlood(report: SpeedReport): Promise<void> {
  if (noPty !== undefined) return console.log(`  not measured: ${noPty}`);
  const found = await soakWindow({ seconds: SECONDS, linesPerSecond: 2000, windows: 4 });
  const what = '2 000 lines a second, four windows';
  report(
    `${what}: press to picture`,
    found.clickMedianMs,
    'ms',
    `95 % ${found.click95Ms}, worst ${found.clickWorstMs} of ${found.clicks}`,
    found.clicks,
  );
  report(`${what}: lines missing`, found.missing, 'lines', `of ${found.linesSent}${found.isInOrder ? ', in order' : ', NOT IN ORDER'}`);
}
