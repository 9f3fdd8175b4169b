/** The strokes of a printed page, in mm of paper: what a steel rule would find, read from the PDF itself. */
import { inflateSync } from 'node:zlib';

type Point = readonly [x: number, y: number];
/** one stroke: its parts as they were begun, points in mm from the left and the bottom of the paper */
export type Stroke = readonly (readonly Point[])[];
type Matrix = readonly [number, number, number, number, number, number];

const MM_PER_POINT = 25.4 / 72;
const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[1] * n[2],
  m[0] * n[1] + m[1] * n[3],
  m[2] * n[0] + m[3] * n[2],
  m[2] * n[1] + m[3] * n[3],
  m[4] * n[0] + m[5] * n[2] + n[4],
  m[4] * n[1] + m[5] * n[3] + n[5],
];

/** Streams of the file that draw, in their order. @source PDF 32000-1:2008, 7.3.8 and 8.5: `m`, `l`, `re`, `cm`, `q`, `Q`, `S` */
function contentStreams(pdf: Buffer): string[] {
  const text = pdf.toString('latin1');
  return [...text.matchAll(/<<[^>]*\/FlateDecode[^>]*>>\s*stream\r?\n/g)].flatMap((match) => {
    const from = match.index + match[0].length;
    const to = text.indexOf('endstream', from);
    try {
      const inner = inflateSync(pdf.subarray(from, to)).toString('latin1');
      return / l\s|\sl\n/.test(inner) && /\bS\b/.test(inner) ? [inner] : [];
    } catch {
      return [];
    }
  });
}

export function strokesOf(pdf: Buffer): Stroke[] {
  const strokes: Stroke[] = [];
  for (const stream of contentStreams(pdf)) {
    let matrix: Matrix = [1, 0, 0, 1, 0, 0];
    const kept: Matrix[] = [];
    let parts: Point[][] = [];
    let numbers: number[] = [];
    const at = (x: number, y: number): Point => [
      (x * matrix[0] + y * matrix[2] + matrix[4]) * MM_PER_POINT,
      (x * matrix[1] + y * matrix[3] + matrix[5]) * MM_PER_POINT,
    ];
    for (const word of stream.split(/\s+/)) {
      const number = Number(word);
      if (word !== '' && Number.isFinite(number)) {
        numbers.push(number);
        continue;
      }
      const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = numbers;
      if (word === 'q') kept.push(matrix);
      else if (word === 'Q') matrix = kept.pop() ?? matrix;
      else if (word === 'cm') matrix = times([a, b, c, d, e, f], matrix);
      else if (word === 'm') parts.push([at(a, b)]);
      else if (word === 'l') parts.at(-1)?.push(at(a, b));
      else if (word === 're') parts.push([at(a, b), at(a + c, b), at(a + c, b + d), at(a, b + d)]);
      else if (word === 'S' || word === 's') {
        strokes.push(parts);
        parts = [];
      } else if (/^(f|F|f\*|B|B\*|b|b\*|n)$/.test(word)) {
        if (/^[Bb]/.test(word)) strokes.push(parts);
        else if (word.startsWith('f') || word === 'F') strokes.push(parts);
        parts = [];
      }
      numbers = [];
    }
  }
  return strokes;
}

/** width and height of the first page, mm */
export function pageSize(pdf: Buffer): readonly [number, number] {
  const box = /\/MediaBox\s*\[\s*([\d.]+)\s+([\d.]+)\s+([\d.]+)\s+([\d.]+)/.exec(pdf.toString('latin1'));
  if (box === null) throw new Error('the PDF has no page');
  return [(Number(box[3]) - Number(box[1])) * MM_PER_POINT, (Number(box[4]) - Number(box[2])) * MM_PER_POINT];
}
