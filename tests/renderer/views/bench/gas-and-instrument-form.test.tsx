// @vitest-environment happy-dom
/** A bottle and an instrument of the bench: saved as typed, nothing made up, nothing that cannot be read is saved. */
import { cleanup, fireEvent, screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { GasForm } from '../../../../renderer/views/bench/forms/GasForm.tsx';
import { InstrumentForm } from '../../../../renderer/views/bench/forms/InstrumentForm.tsx';
import type { Instrument, ReferenceGas } from '../../../../shared/bench/instrument.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { button, press, typeInto } from '../../helpers/in-window.tsx';
import { recordWith } from '../../helpers/records.ts';
import { onBench, pressed, saidBelow, saveButton } from './bench-parts.tsx';

afterEach(cleanup);

/** the fields of one channel */
const part = (name: string) => within(screen.getByRole('group', { name }));
const typeIn = (channel: string, label: string, value: string): void =>
  void fireEvent.change(part(channel).getByLabelText(label), { target: { value } });

describe('a bottle', () => {
  const words = bench.gas;
  const gas: ReferenceGas = {
    format: 1,
    name: 'CO 400',
    serial: 'B-17',
    certificate: 'C-4',
    balance: 'air',
    components: [{ channel: 'co', value: 400, expanded: 4 }],
    certified: '2026-01-05',
    expires: '2999-01-05',
    pressureBar: 80,
    hydrogenPpm: 2,
    notes: 'returned in May',
  };
  const known = (body: ReferenceGas) => ({ lists: { gas: [{ id: 'g1', revision: 1, changedMs: 0, body }] } });

  it('asks for its name and a component, and saves what was typed and nothing else', async () => {
    const { save } = onBench(<GasForm id={undefined} />, { view: { kind: 'gas', id: undefined } });
    expect(saidBelow()).toBe('Name on the bottle?');
    typeInto(words.name, ' Zero ');
    expect(saveButton().disabled).toBe(true);
    // O2 of 0 is a value; CO was left empty and is not one
    typeIn('O2', words.value, '0');
    typeIn('O2', words.expanded, '0.1');
    expect(await save()).toEqual({
      format: 1,
      name: 'Zero',
      balance: 'nitrogen',
      components: [{ channel: 'o2', value: 0, expanded: 0.1 }],
    });
  });
  it('comes back as it was saved, with what the form does not show', async () => {
    const { save, sent } = onBench(<GasForm id="g1" />, known(gas));
    expect(saidBelow()).toBe(words.certifiedAbout);
    expect(await save()).toEqual(gas);
    expect(sent('document.save')).toMatchObject({ id: 'g1', kind: 'gas' });
  });
  it('is not saved with a value whose uncertainty is missing', () => {
    onBench(<GasForm id="g1" />, known(gas));
    typeIn('CO', words.expanded, '');
    expect(saveButton().disabled).toBe(true);
  });
  it.each([
    [words.certified, '5.1.2026'],
    [words.expires, '2026-02-30'],
    [words.pressure, '401'],
    [words.pressure, '-1'],
    [words.hydrogen, '100001'],
  ])('says that %s cannot be %s, and is not saved', (label, text) => {
    onBench(<GasForm id="g1" />, known(gas));
    typeInto(label, text);
    expect(screen.getByLabelText(label).getAttribute('aria-invalid')).toBe('true');
    expect(saveButton().disabled).toBe(true);
  });
  it.each([
    ['-1', '4', words.value],
    ['400', '-1', words.expanded],
  ])('says that a certified %s ± %s is wrong', (value, expanded, label) => {
    onBench(<GasForm id="g1" />, known(gas));
    typeIn('CO', words.value, value);
    typeIn('CO', words.expanded, expanded);
    expect(part('CO').getByLabelText(label).getAttribute('aria-invalid')).toBe('true');
    expect(saveButton().disabled).toBe(true);
  });
  it('says what speaks against using it, and can be saved all the same', async () => {
    const { save } = onBench(<GasForm id="g1" />, known({ ...gas, expires: '2020-01-01', pressureBar: 5 }));
    expect(saidBelow()).toBe('CO 400: expired, nearly empty: below 10 bar (145 psi).');
    expect(await save()).toMatchObject({ expires: '2020-01-01' });
  });
  it.each([
    ['24 Nov, 21:00', Date.UTC(2026, 10, 25, 2), -300, bench.gas.certifiedAbout],
    ['25 Nov, 01:00', Date.UTC(2026, 10, 24, 15), 600, 'CO 400: expired.'],
  ])('that expires on 24 Nov is judged on the day where the bench is: %s', (_, startWallMs, zoneMinutes, says) => {
    const runs = { 'run-1': recordWith({ timeMs: 0 }, { startWallMs, zoneMinutes }) };
    onBench(<GasForm id="g1" />, { ...known({ ...gas, expires: '2026-11-24' }), state: { runs } });
    expect(saidBelow()).toBe(says);
  });
  it('has each channel once, in its own unit, and adds those that are left', () => {
    onBench(<GasForm id="g1" />, known(gas));
    expect([...part('CO').getByLabelText<HTMLSelectElement>(bench.limits.channel).options].map(({ value }) => value)).toEqual([
      'co',
      'o2',
      'no',
      'no2',
      'so2',
      'co2',
    ]);
    expect(part('CO').getAllByText('ppm')).toHaveLength(2);
    for (let more = 0; more < 5; more += 1) press(words.add);
    expect(part('O2').getAllByText('%')).toHaveLength(2);
    expect(screen.getAllByLabelText(words.value)).toHaveLength(6);
    expect(screen.queryByText(words.add)).toBeNull();
  });
  it('is another channel when that is chosen', async () => {
    const { save } = onBench(<GasForm id="g1" />, known(gas));
    typeIn('CO', bench.limits.channel, 'no');
    typeInto(words.balance, 'nitrogen');
    expect(await save()).toMatchObject({ balance: 'nitrogen', components: [{ channel: 'no', value: 400, expanded: 4 }] });
  });
  it('can be removed, but not from a window that may only look', async () => {
    const { sent, view } = onBench(<GasForm id="g1" />, known(gas));
    await pressed(button(bench.home.remove));
    expect(sent('document.remove')).toEqual({ kind: 'gas', id: 'g1' });
    expect(view()).toEqual({ kind: 'home' });
    cleanup();
    onBench(<GasForm id="g1" />, { ...known(gas), state: { role: 'viewer' } });
    expect(saveButton().disabled).toBe(true);
    expect(button(bench.home.remove).disabled).toBe(true);
  });
  it('that is refused stays on the screen', async () => {
    const view = { kind: 'gas', id: 'g1' } as const;
    const shown = onBench(<GasForm id="g1" />, { ...known(gas), view, saves: false });
    await shown.save();
    expect(shown.view()).toEqual(view);
  });
});

describe('an instrument', () => {
  const words = bench.instrument;
  const instrument: Instrument = {
    format: 1,
    name: 'Van 2',
    serial: 'S-9',
    firmware: '1.4',
    recipeName: 'comma columns',
    hose: '3 m',
    filterChanged: '2026-03-01',
    certificateUntil: '2027-03-01',
    notes: 'spare pump',
    cells: [
      { channel: 'o2', rangeLow: 0, rangeHigh: 21, resolution: 0.1, serial: 'C-1', installed: '2025-02-01' },
      { channel: 'co', rangeLow: 0, rangeHigh: 2000, hydrogenCompensated: true },
    ],
  };
  const known = { lists: { instrument: [{ id: 'i1', revision: 1, changedMs: 0, body: instrument }] } };

  it('has an O2 and a CO cell at first, with the usual ranges, and asks for its name', async () => {
    const { save } = onBench(<InstrumentForm id={undefined} />, { view: { kind: 'instrument', id: undefined } });
    expect(saidBelow()).toBe('Name on the bench?');
    expect(saveButton().disabled).toBe(true);
    typeInto(words.name, ' Van 1 ');
    expect(saidBelow()).toBe('');
    expect(await save()).toEqual({
      format: 1,
      name: 'Van 1',
      cells: [
        { channel: 'o2', rangeLow: 0, rangeHigh: 25, resolution: 0.1 },
        { channel: 'co', rangeLow: 0, rangeHigh: 4000, resolution: 1, hydrogenCompensated: false },
      ],
    });
  });
  it('comes back as it was saved, with what the form does not show', async () => {
    const { save, sent } = onBench(<InstrumentForm id="i1" />, known);
    expect(await save()).toEqual(instrument);
    expect(sent('document.save')).toMatchObject({ id: 'i1', kind: 'instrument' });
  });
  it('changes cell by cell; only a CO cell is compensated for hydrogen', async () => {
    const { save } = onBench(<InstrumentForm id="i1" />, known);
    expect(part('O2').queryByLabelText(words.compensated)).toBeNull();
    fireEvent.click(part('CO').getByLabelText(words.compensated));
    typeIn('CO', words.high, '8000');
    typeIn('O2', words.cellSerial, '');
    typeIn('O2', words.installed, '2026-02-01');
    expect(await save()).toMatchObject({
      cells: [
        { channel: 'o2', rangeLow: 0, rangeHigh: 21, resolution: 0.1, installed: '2026-02-01' },
        { channel: 'co', rangeHigh: 8000, hydrogenCompensated: false },
      ],
    });
  });
  it('takes a cell away and adds those that are left; one without its range is not saved', async () => {
    const { save } = onBench(<InstrumentForm id="i1" />, known);
    press('Remove O2');
    expect(await save()).toMatchObject({ cells: [{ channel: 'co' }] });
    press(words.addCell);
    expect(part('O2').getByLabelText<HTMLInputElement>(words.high).value).toBe('25');
    press(words.addCell);
    expect(part('NO').getByLabelText<HTMLInputElement>(words.low).value).toBe('0');
    expect(saveButton().disabled).toBe(true);
    typeIn('NO', words.high, '500');
    expect(saveButton().disabled).toBe(false);
    for (let more = 0; more < 3; more += 1) press(words.addCell);
    expect(screen.queryByText(words.addCell)).toBeNull();
  });
  it.each([
    ['O2', words.low, 'x'],
    ['O2', words.high, 'x'],
    ['O2', words.resolution, '0'],
    ['O2', words.installed, 'last spring'],
  ])('says that the %s cell cannot have "%s" %s, and is not saved', (channel, label, text) => {
    onBench(<InstrumentForm id="i1" />, known);
    typeIn(channel, label, text);
    expect(part(channel).getByLabelText(label).getAttribute('aria-invalid')).toBe('true');
    expect(saveButton().disabled).toBe(true);
  });
  it.each([words.filterChanged, words.certificateUntil])('says that "%s" is a day of the calendar', (label) => {
    onBench(<InstrumentForm id="i1" />, known);
    typeInto(label, '2026-13-01');
    expect(screen.getByLabelText(label).getAttribute('aria-invalid')).toBe('true');
    expect(saveButton().disabled).toBe(true);
  });
  it('can be removed, but not from a window that may only look', async () => {
    const { sent, view } = onBench(<InstrumentForm id="i1" />, known);
    await pressed(button(bench.home.remove));
    expect(sent('document.remove')).toEqual({ kind: 'instrument', id: 'i1' });
    expect(view()).toEqual({ kind: 'home' });
    cleanup();
    onBench(<InstrumentForm id="i1" />, { ...known, state: { role: 'viewer' } });
    expect(saveButton().disabled).toBe(true);
  });
});
