// The two containers in which Windows and macOS want one picture in many sizes. Both simply hold PNG files.

/**
 * Windows: a directory of 16-byte entries, then the pictures (the ICO layout; PNG inside since Windows Vista).
 *
 * @param {{ size: number, png: Buffer }[]} pictures at most 256 pixels wide
 */
export function icoFile(pictures) {
  const head = Buffer.alloc(6 + 16 * pictures.length);
  head.writeUInt16LE(1, 2); // an icon, not a cursor
  head.writeUInt16LE(pictures.length, 4);
  let offset = head.length;
  pictures.forEach(({ size, png }, index) => {
    const at = 6 + 16 * index;
    head.writeUInt8(size === 256 ? 0 : size, at);
    head.writeUInt8(size === 256 ? 0 : size, at + 1);
    head.writeUInt16LE(1, at + 4); // planes
    head.writeUInt16LE(32, at + 6); // bits per pixel
    head.writeUInt32LE(png.length, at + 8);
    head.writeUInt32LE(offset, at + 12);
    offset += png.length;
  });
  return Buffer.concat([head, ...pictures.map(({ png }) => png)]);
}

/** Apple's name for each picture: its size in points, some of them for screens with two pixels per point. */
const appleTypes = [
  ['icp4', 16],
  ['icp5', 32],
  ['ic11', 32],
  ['ic12', 64],
  ['ic07', 128],
  ['ic13', 256],
  ['ic08', 256],
  ['ic14', 512],
  ['ic09', 512],
  ['ic10', 1024],
];

/** macOS: `icns`, the whole length, then a type, a length and a picture each; lengths count their own 8 bytes, big-endian. */
export function icnsFile(pictures) {
  const chunk = (type, content) => {
    const head = Buffer.alloc(8);
    head.write(type, 'latin1');
    head.writeUInt32BE(content.length + 8, 4);
    return Buffer.concat([head, content]);
  };
  const chunks = appleTypes.flatMap(([type, size]) => {
    const found = pictures.find((picture) => picture.size === size);
    return found === undefined ? [] : [chunk(type, found.png)];
  });
  return chunk('icns', Buffer.concat(chunks));
}
