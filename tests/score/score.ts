/** `npm run score [-- NAME [ARGUMENTS]]`: the score programs; without a name, all of them. */
import { makePlainStream } from './settling-plain-streams.ts';
import { scoreSettling } from './settling-score.ts';
import { scoreGeometry } from './geometry-score.ts';
import { scoreBench } from './bench-score.ts';
import { scoreUnsettled } from './unsettled-score.ts';
import { unsettledKinds } from './unsettled-streams.ts';
import { scoreLines } from './lines-score.ts';
import { scoreBenchPrior, scoreTaught } from './taught-score.ts';
import { scoreTuning } from './tuning-score.ts';

const programs: Record<string, (args: readonly string[]) => void | Promise<void>> = {
  tuning: scoreTuning,
  lines: () => scoreLines(),
  geometry: () => scoreGeometry((text) => console.log(text)),
  bench: () => scoreBench((text) => console.log(text)),
  unsettled: (args) => {
    const numbers = args.filter((a) => /^\d+$/.test(a)).map(Number);
    scoreUnsettled(numbers[0], numbers[1], {
      verbose: args.includes('verbose'),
      baseline: !args.includes('quick'),
      only: unsettledKinds.find((kind) => args.includes(kind)),
    });
  },
  taught: (args) => {
    const numbers = args.filter((a) => /^\d+$/.test(a)).map(Number);
    scoreTaught(numbers[0], numbers[1]);
  },
  'bench-prior': (args) => {
    const numbers = args.filter((a) => /^\d+$/.test(a)).map(Number);
    scoreBenchPrior(numbers[0], numbers[1]);
  },
  settling: (args) => {
    const numbers = args.filter((a) => /^\d+$/.test(a)).map(Number);
    const options = {
      verbose: args.includes('verbose'),
      rules: !args.includes('quick'),
      only: args.includes('quick') ? 'plain' : '',
    };
    if (!args.includes('plain')) scoreSettling(numbers[0], numbers[1], options);
    console.log('streams of the second generator, with one slow constant:');
    scoreSettling(numbers[0], numbers[1], { ...options, make: makePlainStream });
  },
};

const [name, ...args] = process.argv.slice(2);
const chosen = name === undefined ? Object.keys(programs) : [name];
for (const each of chosen) {
  const program = programs[each];
  if (!program) {
    console.error(`no score program '${each}'; there are: ${Object.keys(programs).join(', ')}`);
    process.exitCode = 2;
    continue;
  }
  await program(args);
}
