/** The simulated burner as a true instrument sees it: its lines come over a pseudo-terminal, and nothing tells the app that it is none. */
import { createBurner } from '../../../shared/burner/burner.ts';
import type { Burner } from '../../../shared/burner/burner-interface.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';
import type { LedInstrument } from '../host/led-time.ts';
import { startPty, type Pty } from './pty.ts';

export interface PtyBurner extends LedInstrument {
  readonly path: string;
  /** the burner itself, for who turns its shutter, pumps smoke and reads its gauges */
  readonly burner: Burner;
  stop(): Promise<void>;
}

export async function startPtyBurner({ seed = 3 }: { seed?: number } = {}): Promise<PtyBurner> {
  const scenario = findScenario('tune-up');
  if (!scenario.ok) throw new Error('no such scenario');
  const burner = createBurner({ scenario: scenario.value, seed, shape: 'columns', ratePerSecond: 1 });
  const pty: Pty = await startPty();
  return {
    path: pty.path,
    burner,
    async goTo(ms) {
      for (const { text } of burner.advanceTo(ms)) await pty.ask(`send ${text.replace(/[\r\n]+$/, '')}`, 'sent');
      await pty.goTo(ms);
    },
    stop: () => pty.stop(),
  };
}
