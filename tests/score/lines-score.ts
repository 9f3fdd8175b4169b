/** How lines as the world sends them are judged: the field shapes handed to us, and five sets of our own, against their truth. */
import { boardShapes } from '../shared/lines/shapes/board-shapes.ts';
import { boilerShapes } from '../shared/lines/shapes/boiler-shapes.ts';
import { ownShapes } from '../shared/lines/shapes/own-field-shapes.ts';
import { strangerShapes } from '../shared/lines/shapes/stranger-shapes.ts';
import { wireShapes } from '../shared/lines/shapes/wire/shapes.ts';
import { fieldShapes, scoreField, scoreLive, type FieldShape } from '../shared/lines/score-field.ts';

export function scoreLines(): void {
  for (const [name, shapes] of [
    ['field', fieldShapes()],
    ['own', ownShapes],
    ['stranger', strangerShapes],
    ['wire', wireShapes],
    ['board', boardShapes],
    ['boiler', boilerShapes],
  ] as const)
    scoreShapes(name, shapes);
}

function scoreShapes(name: string, shapes: readonly FieldShape[]): void {
  const outcomes = shapes.map(scoreField);
  const misread = outcomes.filter(({ verdict }) => verdict === 'misread');
  const live = shapes.filter((shape) => scoreLive(shape).wrong.length > 0);
  console.log(`${name} shapes: ${shapes.length}, misread: ${misread.length}, misread live: ${live.length}`);
  for (const { name: one } of live) console.log(`  live: ${one}`);
  for (const kind of ['read', 'ask', 'refuse'] as const) {
    const of = outcomes.filter(({ shape }) => shape.expect === kind);
    const right = of.filter(({ isAsExpected, verdict }) => isAsExpected || (kind === 'ask' && verdict === 'right'));
    console.log(`  ${kind}: ${right.length} of ${of.length}`);
    for (const { shape, verdict, wrong } of of.filter((one) => !right.includes(one)))
      console.log(`    ${shape.name}: ${verdict} ${wrong[0] ?? ''}`);
  }
}
