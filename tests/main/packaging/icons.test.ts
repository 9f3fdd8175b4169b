import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const resources = join(import.meta.dirname, '..', '..', '..', 'main', 'resources');
const read = (name: string): Buffer => readFileSync(join(resources, name));

/** Width and height of a PNG: signature, then the IHDR chunk (PNG specification, 5.2 and 11.2.1). */
function pngSize(bytes: Buffer): [number, number] {
  expect(bytes.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]));
  expect(bytes.toString('latin1', 12, 16)).toBe('IHDR');
  return [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
}

const names = ['icon', 'file-run', 'file-recipe'];

describe.each(names)('%s', (name) => {
  it('is a Windows icon in all sizes from 16 to 256', () => {
    const ico = read(`${name}.ico`);
    const count = ico.readUInt16LE(4);
    const sizes = Array.from({ length: count }, (_, index) => {
      const at = 6 + 16 * index;
      const [length, offset] = [ico.readUInt32LE(at + 8), ico.readUInt32LE(at + 12)];
      const [width, height] = pngSize(ico.subarray(offset, offset + length));
      // a byte holds up to 255: 0 stands for 256
      expect([ico[at], height]).toEqual([width % 256, width]);
      return width;
    });
    expect(sizes).toEqual([16, 24, 32, 48, 64, 128, 256]);
  });

  it('is a macOS icon whose lengths add up, for both kinds of screens', () => {
    const icns = read(`${name}.icns`);
    expect(icns.toString('latin1', 0, 4)).toBe('icns');
    expect(icns.readUInt32BE(4)).toBe(icns.length);
    const found: [string, number][] = [];
    for (let at = 8; at < icns.length; at += icns.readUInt32BE(at + 4))
      found.push([icns.toString('latin1', at, at + 4), pngSize(icns.subarray(at + 8))[0]]);
    // type and pixels as `iconutil` names them (from memory)
    expect(Object.fromEntries(found)).toEqual({
      icp4: 16,
      icp5: 32,
      ic11: 32,
      ic12: 64,
      ic07: 128,
      ic13: 256,
      ic08: 256,
      ic14: 512,
      ic09: 512,
      ic10: 1024,
    });
  });
});

it('is there for Linux under the size in its name', () => {
  for (const size of [16, 32, 48, 64, 128, 256, 512]) expect(pngSize(read(`icons/${size}x${size}.png`))).toEqual([size, size]);
});
