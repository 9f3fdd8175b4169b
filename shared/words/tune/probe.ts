/** The smoke spot before the probe goes in. */
import type { SmokeSpot } from '../../measurement/mark.ts';
import { PROBE_SMOKE_MOST, type ProbeGate } from '../../tuning/trial/probe-gate.ts';

export const probeWords = {
  title: 'Smoke spot, before the probe goes in',
  type: 'Type smoke spot',
  another: 'Type another spot',
  how: 'Warm pump. Ten slow strokes, a pause after each. Wipe the sample tube before the next one. The darkest spot counts.',
  limit: `Above ${PROBE_SMOKE_MOST}, or oil on the paper: the probe stays out.`,
  keep: 'Save smoke',
  keepRead: 'Save smoke, take the reading',
  without: 'Why there is no spot',
  withoutHint: 'Type the spot, or why there is none. It is printed in the report.',
  withoutAbout: 'Type a reason of at least three letters.',
  fact: 'Smoke before the probe',
  spots: (spots: readonly SmokeSpot[]): string =>
    `${spots.map(({ number, flaw }) => `${String(number)}${flaw === undefined ? '' : ` (${flaw})`}`).join(', ')}${spots.some(({ oilTrace }) => oilTrace === true) ? ', oil on the paper' : ''}`,
  oil: 'oil',
  skipFound: (smoke: string): string => `Skip as-found: ${smoke === 'oil' ? 'oil on the paper' : `smoke ${smoke}`}`,
  skipReason: (smoke: string): string => `Smoke ${smoke} before the probe went in`,
  skipOil: 'Oil on the paper before the probe went in',
} as const;

export function probeHeadline(gate: ProbeGate): { strong: string; rest: string } | undefined {
  switch (gate.state) {
    case 'open':
      return undefined;
    case 'needed':
      return { strong: 'Take a smoke spot before the probe goes in.', rest: probeWords.limit };
    case 'too-dark':
      return {
        strong: `Smoke ${gate.smoke}: the probe stays out.`,
        rest: 'Open the air or stop the burner, find out why, then take another spot.',
      };
    case 'oil':
      return { strong: 'Oil on the paper: the probe stays out.', rest: 'Find the cause, then take another spot.' };
  }
}
