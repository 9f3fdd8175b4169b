import { describe, expect, it } from 'vitest';
import { curvesAsCsv } from '../../../shared/warm-up/curve-csv.ts';
import type { WarmUpCurve } from '../../../shared/warm-up/curve.ts';

const curve: WarmUpCurve = {
  format: 1,
  name: '=2+2, "boiler"',
  runId: 'r',
  capturedWallMs: 0,
  source: 'port',
  startState: 'cold',
  outdoorC: -3.5,
  tags: ['winter', 'class'],
  lightOffMs: 0,
  channels: { stackTemperature: { seconds: [-1, 0.5], values: [20, 21.25] }, o2: { seconds: [0], values: [20.9] } },
};

describe('curves as CSV', () => {
  it('have a row a point with unit, a header, and cells that no spreadsheet runs (RFC 4180)', () => {
    const rows = curvesAsCsv([curve], 'comma', 'SIMULATED').split('\r\n');
    expect(rows[0]).toBe('Curve,Source,Start,Outdoors [degC],Tags,Channel,Unit,Time from light-off [s],Value');
    expect(rows[1]).toBe(`"'=2+2, ""boiler""",port,cold,-3.5,winter | class,O2,%,0,20.9`);
    expect(rows[3]).toBe(`"'=2+2, ""boiler""",port,cold,-3.5,winter | class,Stack,°C,0.5,21.25`);
    expect(rows).toHaveLength(5);
  });
  it('take the decimal comma with the semicolon', () =>
    expect(curvesAsCsv([curve], 'semicolon', 'SIMULATED')).toContain(';°C;0,5;21,25\r\n'));
  it('say first thing when one of them is simulated', () =>
    expect(curvesAsCsv([curve, { ...curve, source: 'simulated' }], 'comma', 'SIMULATED').startsWith('SIMULATED\r\n')).toBe(true));
});
