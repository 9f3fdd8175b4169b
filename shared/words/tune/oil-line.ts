/** Sentences about the line from tank to pump, for screen and paper. */
import type { VacuumSays } from '../../tuning/set-up/oil-line.ts';

export const oilLineWords = {
  title: 'Oil line',
  vacuum: 'Vacuum at the pump',
  labels: { pipes: 'Pipes', liftM: 'Lift, oil to pump', runM: 'Length of pipe', filter: 'Filter in the line' },
  pipes: { one: 'one pipe', two: 'two pipes' },
  notSaid: 'not entered',
  yes: 'yes',
  no: 'no',
  about: {
    one: 'One pipe: the pump draws only what the burner burns, and air stays in until it is bled. 6 in Hg (200 mbar) at most is usual. (common practice)',
    two: 'Two pipes: the pump draws its whole flow, more than the burner burns. Never run it with the return line shut: the shaft seal fails. 15 in Hg (500 mbar) at most is usual. (common practice)',
  },
  says: {
    'as-expected': 'The gauge agrees.',
    low: 'Look for an air leak: the gauge shows less. Never put pressure on the line to find it.',
    high: 'Look for a restriction (filter, valve, kinked line): the gauge shows more.',
  } as Readonly<Record<VacuumSays, string>>,
  expected: (vacuum: string, says: VacuumSays | undefined): string =>
    [`Expected ${vacuum} from lift, run and filter (NORA Oilheat Technicians Manual p 71).`, says && oilLineWords.says[says]]
      .filter(Boolean)
      .join(' '),
  /** on paper, in one line */
  line: (parts: readonly (string | undefined)[]): string => parts.filter(Boolean).join(', '),
  lift: (length: string): string => `lift ${length}`,
  run: (length: string): string => `run ${length}`,
  filter: (has: boolean): string => (has ? 'with filter' : 'no filter'),
};
