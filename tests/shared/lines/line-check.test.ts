import { describe, expect, it } from 'vitest';
import { algorithms, verifyCheck, type RealCheck } from '../../../shared/lines/line-check.ts';
import { findCheck } from '../../../shared/lines/learning/find-check.ts';
import { seeded } from './shapes/corpus.ts';

const check = (rest: Partial<RealCheck> & Pick<RealCheck, 'kind'>): RealCheck => ({
  lead: '*',
  skip: 0,
  coversLead: false,
  as: 'hex',
  digits: 2,
  overPairs: false,
  ...rest,
});

describe('line checks', () => {
  // Check values of '123456789' in the published catalogues of CRC algorithms (from memory).
  it.each([
    ['crc16-modbus', 0x4b37],
    ['crc16-ccitt', 0x29b1],
    ['crc16-xmodem', 0x31c3],
    ['crc8', 0xf4],
  ] as const)('%s of 123456789', (kind, expected) => expect(algorithms[kind]('123456789', 0, 9)).toBe(expected));

  // Test vectors that are commonly printed with Fletcher's checksum (from memory).
  it.each([
    ['abcde', 0xc8f0],
    ['abcdef', 0x2057],
    ['abcdefgh', 0x0627],
  ])('fletcher16 of %s', (text, expected) => expect(algorithms.fletcher16(text, 0, text.length)).toBe(expected));

  it('takes the sentence that textbooks on NMEA 0183 print', () => {
    const line = '$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47';
    expect(verifyCheck(check({ kind: 'xor', skip: 1 }), line)).toMatchObject({ ok: true });
    expect(verifyCheck(check({ kind: 'xor', skip: 1 }), line.replace('4807', '4808'))).toMatchObject({ ok: false, why: 'wrong-check' });
    expect(verifyCheck(check({ kind: 'xor', skip: 1 }), line.slice(0, -3))).toMatchObject({ ok: false, why: 'missing-check' });
  });

  it('takes a Modbus ASCII frame', () => {
    // 11 03 00 6B 00 03 adds up to 82; its two's complement is 7E (by hand).
    const lrc = check({ kind: 'lrc', lead: '', skip: 1, overPairs: true });
    expect(verifyCheck(lrc, ':1103006B00037E')).toMatchObject({ ok: true, body: ':1103006B0003' });
    expect(verifyCheck(lrc, ':1103006B00047E')).toMatchObject({ ok: false, why: 'wrong-check' });
  });

  it('sums modulo 256', () => {
    // 'A' 65 + 'B' 66 + 'C' 67 = 198 = C6
    expect(verifyCheck(check({ kind: 'sum', lead: ',' }), 'ABC,C6')).toMatchObject({ ok: true, body: 'ABC' });
    expect(verifyCheck(check({ kind: 'sum', lead: ',', as: 'decimal', digits: 3 }), 'ABC,198')).toMatchObject({ ok: true });
    expect(verifyCheck(check({ kind: 'sum', lead: ',', coversLead: true }), `ABC,${(198 + 44).toString(16)}`)).toMatchObject({ ok: true });
  });

  it('finds no check in lines that have none', () => {
    const random = seeded(5);
    const lines = Array.from(
      { length: 60 },
      () => `${(4 + random()).toFixed(1)},${Math.floor(random() * 90)},${(200 + 20 * random()).toFixed(1)}`,
    );
    expect(findCheck(lines)).toBeUndefined();
  });

  it('finds a check although every sixth line is spoiled', () => {
    const random = seeded(6);
    const lines = Array.from({ length: 60 }, (_, at) => {
      const body = `${(4 + random()).toFixed(1)},${Math.floor(random() * 90)}`;
      const sum = [...body].reduce((total, char) => total ^ char.charCodeAt(0), 0);
      return `${at % 6 === 0 ? body.replace(/\d/, '?') : body}*${sum.toString(16).padStart(2, '0')}`;
    });
    expect(findCheck(lines)?.check).toMatchObject({ kind: 'xor', lead: '*', skip: 0, as: 'hex' });
  });
});
