/** Nozzles as they are stamped, and the derating aid. */
import { formatNumber, withUnit } from '../../format/quantity.ts';
import { PA_PER_BAR } from '../../units/convert.ts';
import type { StampUnit } from '../../tuning/set-up/set-up-sheet.ts';

export const nozzleWords = {
  title: 'Nozzle and pressure of each stage',
  only: 'Nozzle',
  adds: 'burns together with stage 1',
  columns: {
    stage: 'stage',
    stamp: 'Stamped flow',
    unit: 'Flow unit',
    at: 'Stamped at',
    angle: 'Angle',
    pattern: 'Pattern',
    pump: 'Pump pressure now',
    flow: 'flow and input',
  },
  units: { gph: 'gph', 'l/h': 'L/h', 'kg/h': 'kg/h' } satisfies Record<StampUnit, string>,
  psi100: '100 psi',
  /** as it stands on the nozzle, whatever the units of the visit */
  stampedBar: (pa: number): string => withUnit(formatNumber(pa / PA_PER_BAR, 0), 'bar'),
  stampLine: (stamp: string, at: string): string => `${stamp} at ${at}`,
  derate: 'Which nozzle for a smaller input?',
  wanted: 'Wanted input',
  plate: (input: string): string => `Maximum on the plate: ${input}.`,
  noPlate: 'The plate’s input is not in the records: nothing is compared with it.',
  derateColumns: { pressure: 'at', needed: 'needed', nozzle: 'common nozzle', input: 'gives', plate: 'plate' },
  over: 'over the plate',
  inside: 'within the plate',
  derateNote:
    'Flows at 100 psi; nozzle sizes are common practice. The burner maker’s sheet says which nozzle and pressure this burner may have.',
  fact: (stage: string): string => `Stage ${stage}`,
} as const;
