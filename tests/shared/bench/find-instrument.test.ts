import { describe, expect, it } from 'vitest';
import { findInstrument } from '../../../shared/bench/find-instrument.ts';

const body = (name: string, serial: string) => ({ format: 1, name, serial, cells: [] });
const stored = [
  { id: 'i1', body: body('Van 1', 'S-100') },
  { id: 'i2', body: body('Van 2', 'S-200') },
  { id: 'i3', body: body('Spare', 'S-300') },
  { id: 'i4', body: body('Spare', 'S-400') },
  { id: 'i5', body: { format: 9 } },
];
const idOf = (instrumentName: string) => findInstrument({ instrumentName }, stored)?.id;

describe('the instrument that a visit names', () => {
  it('is found by name and by serial number, whatever the case', () => {
    expect([' van 2 ', 's-200'].map(idOf)).toEqual(['i2', 'i2']);
  });
  it('is found by its id whatever it is called by now, and is none when it was deleted', () => {
    expect(findInstrument({ instrumentId: 'i2', instrumentName: 'Van 1' }, stored)?.id).toBe('i2');
    expect(findInstrument({ instrumentId: 'gone', instrumentName: 'Van 1' }, stored)).toBeUndefined();
    expect(findInstrument({}, stored)).toBeUndefined();
  });
  it('is none when two have the name, when nobody has it, and when it cannot be read', () => {
    expect(['Spare', 'Van 3', 'i2', ''].map(idOf)).toEqual([undefined, undefined, undefined, undefined]);
  });
});
