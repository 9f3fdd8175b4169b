/** The simulated burner as a true instrument sees it: its lines come over a pseudo-terminal, and nothing tells the app that it is none. */
import { createBurner, type Burner } from '../../shared/burner/burner.ts';
import { findScenario } from '../../shared/burner/scenarios/catalogue.ts';
import { startPty, type Pty } from './pty.ts';

export interface PtyBurner {
  readonly path: string;
  /** the burner itself, for who turns its shutter, pumps smoke and reads its gauges */
  readonly burner: Burner;
  /** burner time, ms */
  now(): number;
  stop(): Promise<void>;
}

/** @param speed burner seconds per second; the app's own `--speed` has to be the same */
export async function startPtyBurner({ speed, seed = 3 }: { speed: number; seed?: number }): Promise<PtyBurner> {
  const scenario = findScenario('tune-up');
  if (!scenario.ok) throw new Error('no such scenario');
  const burner = createBurner({ scenario: scenario.value, seed, shape: 'columns', ratePerSecond: 1 });
  const pty: Pty = await startPty();
  const began = performance.now();
  const now = (): number => (performance.now() - began) * speed;
  // the answers are not waited for: a busy computer sends a few lines late, never fewer
  const timer = setInterval(() => {
    for (const { text } of burner.advanceTo(now())) void pty.ask(`send ${text.replace(/[\r\n]+$/, '')}`, 'sent').catch(() => undefined);
  }, 1000 / speed);
  return {
    path: pty.path,
    burner,
    now,
    async stop() {
      clearInterval(timer);
      await pty.stop();
    },
  };
}
