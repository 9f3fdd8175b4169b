/** `npm run score [-- NAME [ARGUMENTS]]`: the score programs; without a name, all of them. */
import { fitNearStreams } from './settling-fit.ts';
import { makeNearStream } from './settling-near-streams.ts';
import { makePlainStream } from './settling-plain-streams.ts';
import { scoreSettling } from './settling-score.ts';
import { makeStream } from './settling-streams.ts';
import { scoreGeometry } from './geometry-score.ts';
import { scoreBench } from './bench-score.ts';
import { scoreUnsettled } from './unsettled-score.ts';
import { scoreSwings } from './unsettled-swings.ts';
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
    const verbose = args.includes('verbose');
    const generators = {
      first: undefined,
      second: { name: 'second', make: makePlainStream },
      near: { name: 'third', make: makeNearStream },
    };
    const wanted = Object.entries(generators).filter(([name]) => args.includes(name));
    for (const [, generator] of wanted.length > 0 ? wanted : [['first', generators.first] as const])
      scoreTaught(numbers[0], numbers[1], { verbose, ...generator });
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
    const generators = {
      first: { title: 'streams of the first generator:', make: makeStream },
      plain: { title: 'streams of the second generator, with one slow constant:', make: makePlainStream },
      near: { title: 'streams of the third generator, near the printed rows:', make: makeNearStream },
    };
    const wanted = Object.entries(generators).filter(([name]) => args.includes(name));
    for (const [, { title, make }] of wanted.length > 0 ? wanted : Object.entries(generators)) {
      console.log(title);
      scoreSettling(numbers[0], numbers[1], { ...options, make });
    }
  },
  'settling-fit': (args) => fitNearStreams(...args.filter((a) => /^\d+$/.test(a)).map(Number)),
  'co-swings': (args) => scoreSwings(...args.filter((a) => /^\d+$/.test(a)).map(Number)),
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
