import { fieldShapes, scoreField } from './shared/lines/score-field.ts';
import { ownShapes } from './shared/lines/own-field-shapes.ts';
const only = process.argv[2];
for (const shape of [...fieldShapes(), ...ownShapes]) {
  if (only !== undefined && !shape.name.includes(only)) continue;
  const t = performance.now();
  const one = scoreField(shape);
  const ms = performance.now() - t;
  const ok = one.verdict === 'misread' ? 'BAD!' : one.isAsExpected ? 'ok  ' : one.verdict === 'right' && shape.expect === 'ask' ? 'ok+ ' : '--  ';
  const j = one.judged;
  console.log(ok, shape.expect.padEnd(6), one.verdict.padEnd(10), shape.name.slice(0, 44).padEnd(44), j.kind === 'refuse' ? j.trouble : `${j.proposal.recipe.name} ${j.proposal.confidence.toFixed(2)} ${j.proposal.recipe.fields.map((f) => `${f.channel}@${typeof f.at === 'object' ? f.at.start : f.at}${f.unit}`).join(' ')}`, ms.toFixed(0), one.wrong.slice(0, 2).join('; '), one.verdict==='incomplete'? `${one.right}/${shape.rows.length}`:'');
  if (only !== undefined && j.kind !== 'refuse') for (const c of j.proposal.columns) console.log('   ', JSON.stringify(c).slice(0, 400));
  if (only !== undefined && j.kind === 'refuse') for (const c of j.ruledOut) console.log('   ', JSON.stringify(c).slice(0, 300));
}
