/** The curves from cold: the sentence, and what its main button begins. Pure. */
import { warmUp as words } from '../../../shared/words/warm-up.ts';

export type WarmUpDeed = { does: 'exercises' | 'call'; says: string; text: string };

export const warmUpDeedOf = ({ hasRun, hasLightOff }: { hasRun: boolean; hasLightOff: boolean }): WarmUpDeed =>
  hasRun
    ? { does: 'call', says: hasLightOff ? words.says.running : words.says.cold, text: words.startCall }
    : { does: 'exercises', says: words.says.nothing, text: words.chooseExercise };
