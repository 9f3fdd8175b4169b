// @vitest-environment happy-dom
/** Nozzles of the stages: what is typed is what the sheet holds, the flow and input follow, and the aid never goes over the plate. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { useVisit } from '../../../renderer/views/visit/use-visit.ts';
import { StageNozzles } from '../../../renderer/views/visit/start/StageNozzles.tsx';
import type { AppState } from '../../../renderer/state/store.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { field, inWindow, oilVisit, rowsOf, typeInto } from '../helpers/in-window.tsx';

afterEach(cleanup);

// NIST SP 811: psi and US gallon
const PSI = 6894.757293168;
const GALLON = 3.785411784;
const here = 'Nozzle and pressure of each stage';
const Page = () => <StageNozzles here={useVisit()} />;
const stages = [{ name: '1' }, { name: '2' }];
const show = (more: Partial<Visit> = {}, state: Partial<AppState> = {}) => inWindow(<Page />, { visit: oilVisit(more), ...state });
const fired: Visit['setUp'] = {
  lengthUnit: 'inch',
  rows: { nozzleFlowLh: { asFound: 0.85 * GALLON }, pumpPressurePa: { asFound: 100 * PSI } },
};
const pick = (label: string, value: string): void => void fireEvent.change(screen.getByLabelText(label), { target: { value } });

describe('the first nozzle is the one of the set-up sheet', () => {
  it('a stamp goes to the stage, to the flow of the sheet and to the pressure that it is for', () => {
    const { edits } = show();
    typeInto('Stamped flow', '0.85');
    expect(edits.map(({ path }) => path.join('.'))).toEqual(['setUp.stages', 'setUp.rows.nozzleFlowLh', 'setUp.ratedPressurePa']);
    const [stage, row, rated] = edits.map(({ after }) => after) as [
      { stage: string; stamp: { value: number; unit: string } }[],
      { asFound: number },
      number,
    ];
    expect(stage).toMatchObject([{ stage: '1', stamp: { value: 0.85, unit: 'gph' } }]);
    expect(row.asFound).toBeCloseTo(0.85 * GALLON, 6);
    expect(rated).toBeCloseTo(100 * PSI, -2);
  });
  it('a stamp that is taken out goes everywhere', () => {
    const { edits } = show({ setUp: { ...fired, stages: [{ stage: '1', stamp: { value: 0.85, unit: 'gph', atPa: 100 * PSI } }] } });
    typeInto('Stamped flow', '');
    expect(edits).toEqual([
      { path: ['setUp', 'stages'], after: [{ stage: '1' }] },
      { path: ['setUp', 'rows', 'nozzleFlowLh'], after: {} },
      { path: ['setUp', 'ratedPressurePa'], after: undefined },
    ]);
  });
  it('in metric units a stamp is in kg/h at 10 bar until it is said otherwise; both can be chosen before the flow', () => {
    const { edits } = show({ unitPreset: 'metric' });
    typeInto('Stamped flow', '2');
    expect(edits[0]?.after).toEqual([{ stage: '1', stamp: { value: 2, unit: 'kg/h', atPa: 1_000_000 } }]);
    cleanup();
    const later = show({ unitPreset: 'metric' });
    pick('Flow unit', 'l/h');
    pick('Stamped at', '700000');
    expect(later.edits).toEqual([]);
    typeInto('Stamped flow', '2');
    expect(later.edits[0]?.after).toEqual([{ stage: '1', stamp: { value: 2, unit: 'l/h', atPa: 700_000 } }]);
  });
  it('another unit or pressure of a stamp that was typed is the same number read in it', () => {
    const { edits } = show({ setUp: { ...fired, stages: [{ stage: '1', stamp: { value: 0.85, unit: 'gph', atPa: 100 * PSI } }] } });
    pick('Flow unit', 'kg/h');
    // 0.84 kg/L test oil: EN 293, from memory, as in the app
    expect(edits[0]?.after).toMatchObject([{ stamp: { value: 0.85, unit: 'kg/h' } }]);
    expect((edits[1]!.after as { asFound: number }).asFound).toBeCloseTo(0.85 / 0.84, 6);
    edits.length = 0;
    pick('Stamped at', '1000000');
    expect(edits[0]?.after).toMatchObject([{ stamp: { value: 0.85, unit: 'gph', atPa: 1_000_000 } }]);
    expect(edits[2]).toEqual({ path: ['setUp', 'ratedPressurePa'], after: 1_000_000 });
  });
  it('pressure, angle and pattern go to as found; once something was measured as left, there', () => {
    const found = show();
    typeInto('Pump pressure now', '140');
    typeInto('Angle', '80');
    pick('Pattern', 'hollow');
    expect(found.edits.map(({ path }) => path.join('.'))).toEqual([
      'setUp.rows.pumpPressurePa',
      'setUp.rows.nozzleAngleDeg',
      'setUp.nozzlePattern',
    ]);
    expect((found.edits[0]!.after as { asFound: number }).asFound).toBeCloseTo(140 * PSI, -1);
    expect(found.edits.slice(1).map(({ after }) => after)).toEqual([{ asFound: 80 }, { asFound: 'hollow' }]);
    cleanup();
    const left = show({
      setUp: {
        lengthUnit: 'inch',
        rows: { nozzleAngleDeg: { asFound: 80, asLeft: 70 } },
        nozzlePattern: { asFound: 'hollow', asLeft: 'solid' },
      },
    });
    typeInto('Angle', '60');
    pick('Pattern', '');
    expect(left.edits.map(({ after }) => after)).toEqual([
      { asFound: 80, asLeft: 60 },
      { asFound: 'hollow', asLeft: undefined },
    ]);
  });
});

describe('a second stage has a nozzle of its own', () => {
  it('what is typed at it leaves the sheet of the first alone', () => {
    const { edits } = show({ stages, setUp: { ...fired, stages: [{ stage: '1', angleDeg: 80 }] } });
    typeInto('Stamped flow, Stage 2, high fire', '0.5');
    typeInto('Angle, Stage 2, high fire', '60');
    typeInto('Pump pressure now, Stage 2, high fire', '200');
    pick('Pattern, Stage 2, high fire', 'solid');
    fireEvent.click(screen.getByLabelText('burns together with stage 1'));
    expect(new Set(edits.map(({ path }) => path.join('.')))).toEqual(new Set(['setUp.stages']));
    const own = edits.map(({ after }) => (after as { stage: string }[]).find(({ stage }) => stage === '2'));
    expect(own).toMatchObject([{ stamp: { value: 0.5, unit: 'gph' } }, { angleDeg: 60 }, {}, { pattern: 'solid' }, { adds: true }]);
    expect((own[2] as { pumpPa?: number }).pumpPa).toBeCloseTo(200 * PSI, -1);
    expect(edits.every(({ after }) => (after as { stage: string; angleDeg?: number }[])[0]?.angleDeg === 80)).toBe(true);
  });
});

describe('flow and input', () => {
  it('are a dash until nozzle and pressure are known', () => {
    show({ setUp: { lengthUnit: 'inch', rows: { nozzleFlowLh: { asFound: 0.85 * GALLON } } } });
    expect(rowsOf(here)[1]?.at(-1)).toBe('–');
  });
  it('follow the stamp at 100 psi as it is, and with the root of the pressure above', () => {
    show({ setUp: fired });
    expect(rowsOf(here)[1]?.at(-1)).toMatch(/^0\.85 gph1[12]\d\.\d kBtu\/h, HHV$/);
    cleanup();
    show({ setUp: { ...fired, rows: { ...fired.rows, pumpPressurePa: { asFound: 144 * PSI } } } });
    // 0.85 x sqrt(1.44)
    expect(rowsOf(here)[1]?.at(-1)).toMatch(/^1\.02 gph/);
  });
  it('are on the lower heating value in metric units', () => {
    show({ setUp: fired, unitPreset: 'metric' });
    expect(rowsOf(here)[1]?.at(-1)).toMatch(/^3\.2\d? L\/h3[0-4]\.\d kW, LHV$/);
  });
});

describe('which nozzle for a smaller input', () => {
  const wanted = (text: string): string[][] => {
    typeInto('Wanted input', text);
    return rowsOf('Which nozzle for a smaller input?');
  };
  it('says that nothing is compared where the plate is not in the records', () => {
    show();
    expect(document.body.textContent).toContain('The plate’s input is not in the records');
    expect(wanted('100')[1]?.at(-1)).toBe('–');
  });
  it('offers five pressures; each gives the nearest common nozzle, and a higher pressure needs a smaller one', () => {
    show({}, { appliance: { id: 'a', appliance: { ratedInputKw: 40 } } as never });
    expect(document.body.textContent).toContain('Maximum on the plate: 136.5 kBtu/h.');
    const rows = wanted('119').slice(1);
    expect(rows.map(([at]) => at)).toEqual(['100 psi', '125 psi', '140 psi', '150 psi', '175 psi']);
    const needed = rows.map(([, gph]) => Number(gph?.split(' ')[0]));
    expect(needed).toEqual([...needed].sort((a, b) => b - a));
    // flow goes with the root of the pressure
    expect(needed[4]! / needed[0]!).toBeCloseTo(Math.sqrt(100 / 175), 1);
    expect(rows[0]?.[2]).toBe('0.85 gph');
    expect(rows.every(([, , , gives]) => /^\d+\.\d \([+−]\d+ %\)$/.test(gives ?? ''))).toBe(true);
    expect(rows.every((row) => row.at(-1) === 'within the plate')).toBe(true);
  });
  it('nothing over the plate is offered while something inside it is there; what is over it is said', () => {
    show({}, { appliance: { id: 'a', appliance: { ratedInputKw: 22 } } as never });
    const rows = wanted('119').slice(1);
    expect(rows.every((row) => row.at(-1) === 'within the plate')).toBe(true);
    expect(rows.every(([, , , gives]) => Number(gives?.split(' ')[0]) <= 75.1 && gives?.includes('(−'))).toBe(true);
    cleanup();
    show({}, { appliance: { id: 'a', appliance: { ratedInputKw: 5 } } as never });
    expect(
      wanted('119')
        .slice(1)
        .every((row) => row.at(-1) === 'over the plate'),
    ).toBe(true);
  });
  it('what cannot be read, or is nothing, gives no table', () => {
    show();
    typeInto('Wanted input', 'much');
    expect(screen.queryByRole('table', { name: 'Which nozzle for a smaller input?' })).toBeNull();
    expect(field('Wanted input').closest('.one-field')?.querySelector('.wrong')).not.toBeNull();
    typeInto('Wanted input', '0');
    expect(screen.queryByRole('table', { name: 'Which nozzle for a smaller input?' })).toBeNull();
  });
});
