/** Entry C: one command, no window. Wiring only. */
import { problem } from '../shared/problem.ts';
import { EXIT_DONE, EXIT_FAILURE, EXIT_USAGE, type CommandIo } from './commands/command.ts';
import { commands } from './commands/index.ts';
import { plainText } from './commands/output/plain-text.ts';
import { systemClock } from './system-clock.ts';
import { problemLine } from '../shared/words/problems.ts';
import { cliTexts } from '../shared/words/commands/start.ts';

const stop = new AbortController();
// a reader that went away (`| head -1`) is no failure
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') process.stderr.write(`${error.message}\n`);
  stop.abort();
  process.exit(error.code === 'EPIPE' ? EXIT_DONE : EXIT_FAILURE);
});
process.once('SIGINT', () => stop.abort());
process.once('SIGTERM', () => stop.abort());

/** `--data DIR` goes before or after the command's name and means the same everywhere. */
function takeDataFolder(args: string[]): { rest: string[]; dataFolder: string | undefined } {
  const rest: string[] = [];
  let dataFolder: string | undefined;
  for (let i = 0; i < args.length; i += 1) {
    const arg = args[i] ?? '';
    if (arg === '--data') dataFolder = args[(i += 1)];
    else if (arg.startsWith('--data=')) dataFolder = arg.slice('--data='.length);
    else rest.push(arg);
  }
  return { rest, dataFolder };
}

function listCommands(): string {
  const width = Math.max(...Object.keys(commands).map(({ length }) => length)) + 2;
  const rows = Object.entries(commands).map(([name, { summary }]) => `  ${name.padEnd(width)}${summary}`);
  return [cliTexts.usage, '', ...rows].join('\n');
}

async function main(): Promise<number> {
  const { rest, dataFolder } = takeDataFolder(process.argv.slice(2));
  const [name, ...args] = rest;
  const io: CommandIo = {
    // what goes into a file or another program is left as it is
    out: (text) => void process.stdout.write(`${process.stdout.isTTY ? plainText(text) : text}\n`),
    error: (text) => void process.stderr.write(`${plainText(text)}\n`),
    stdin: () => process.stdin,
    clock: systemClock,
    cwd: process.cwd(),
    dataFolder,
    signal: stop.signal,
  };
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    io.out(listCommands());
    return name === undefined ? EXIT_USAGE : EXIT_DONE;
  }
  const known = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (known === undefined) {
    io.error(problemLine(problem('usage', cliTexts.noCommand(name))));
    return EXIT_USAGE;
  }
  const { command } = await known.load();
  if (args.includes('--help') || args.includes('-h')) {
    io.out(command.usage);
    return EXIT_DONE;
  }
  try {
    return await command.run(args, io);
  } catch (bug) {
    io.error(problemLine(problem('internal', bug instanceof Error ? bug.message : String(bug))));
    return EXIT_FAILURE;
  }
}

// what is still in the pipe goes out first; an open standard input must not keep the process alive
void main().then((code) => process.stdout.write('', () => process.exit(code)));
