/**
 * `npm run fuzz [BYTES] [SEED] [MESSAGES]`: the long form; the short ones are unit tests. Bytes are shared out: half to lines and recipes as they are
 * read, half to files (backups, packages, run files, records, recipes).
 */
import { fuzzFiles } from './files.ts';
import { fuzzLines } from './lines.ts';
import { fuzzMessages } from './messages.ts';

const totalBytes = Number(process.argv[2] ?? 10_000_000);
const seed = Number(process.argv[3] ?? 1);
const messageCount = Number(process.argv[4] ?? 10_000);
const start = performance.now();
const seconds = (): string => `${((performance.now() - start) / 1000).toFixed(1)} s`;

const { bytes, lines, samples, rejected } = fuzzLines(totalBytes / 2, seed);
console.log(`lines: ${bytes} bytes, seed ${seed}: ${lines} lines, ${samples} samples, ${rejected} rejected, nothing thrown, ${seconds()}`);
for (const found of await fuzzFiles(totalBytes / 10, seed))
  console.log(`${found.kind}: ${found.bytes} bytes in ${found.files} files, ${found.taken} taken, nothing thrown, ${seconds()}`);
const sent = await fuzzMessages(messageCount, seed);
console.log(
  `messages: ${sent.messages}, ${sent.answered} answered, host ${sent.isAlive ? 'alive' : 'DEAD'}, ${sent.thrown.length} thrown, ${seconds()}`,
);
for (const text of sent.thrown.slice(0, 5)) console.log(text);
process.exitCode = sent.isAlive && sent.thrown.length === 0 ? 0 : 1;
