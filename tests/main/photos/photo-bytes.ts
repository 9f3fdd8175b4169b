/** A photo by its frame only: enough for whoever looks at its bytes. */
const marker = (code: number, content: number[]): number[] => [
  0xff,
  code,
  (content.length + 2) >> 8,
  (content.length + 2) & 0xff,
  ...content,
];
const two = (value: number): number[] => [value >> 8, value & 0xff];

/** @source ITU-T T.81 annex B: SOI, APP1, DQT, SOF0, SOS, data, EOI */
export function jpegBytes({ width = 1600, height = 1200, filler = 'x'.repeat(200) } = {}): Uint8Array {
  return Uint8Array.from([
    ...[0xff, 0xd8],
    ...marker(
      0xe1,
      Array.from(filler, (letter) => letter.charCodeAt(0)),
    ),
    ...marker(0xdb, new Array<number>(65).fill(1)),
    ...marker(0xc0, [8, ...two(height), ...two(width), 1, 1, 0x11, 0]),
    ...marker(0xda, [1, 1, 0, 0, 63, 0]),
    ...[0x12, 0x34, 0x56, 0xff, 0xd9],
  ]);
}

/** @source ISO/IEC 15948: signature, IHDR, IEND */
export function pngBytes(width = 40, height = 30): Uint8Array {
  const bytes = new Uint8Array(45);
  bytes.set([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52]);
  const view = new DataView(bytes.buffer);
  view.setUint32(16, width);
  view.setUint32(20, height);
  bytes.set([0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82], 37);
  return bytes;
}
