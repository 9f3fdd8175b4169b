import { parseArgs } from 'node:util';
import { SourceChoice } from '../shared/ipc/run-documents.ts';
import { Role } from '../shared/ipc/session-commands.ts';
import { problem, type Problem } from '../shared/problem.ts';
import { err, ok, type Result } from '../shared/result.ts';
import { nodeOptionTexts } from '../shared/words/commands/start.ts';

export type NodeOptions = {
  readonly dataFolder: string | undefined;
  /** how much faster than life the host's time runs */
  readonly speed: number;
  /** 0: any free one */
  readonly port: number;
  readonly opensWindow: boolean;
  readonly firstRun: SourceChoice | 'newcomer' | 'none';
  /** how long the host stays without a window, ms of real time */
  readonly lingerMs: number;
  /** what the window that a second start opens may be */
  readonly role: Role;
  /** why this host and not the desktop shell, in words */
  readonly why: string;
};

export const nodeUsage = nodeOptionTexts.usage;

/** Host 2's own options; `npm start` passes on what it does not use itself. */
export function readNodeOptions(args: readonly string[]): Result<NodeOptions, Problem> {
  let values;
  try {
    ({ values } = parseArgs({
      args: [...args],
      options: {
        data: { type: 'string' },
        source: { type: 'string' },
        simulated: { type: 'boolean' },
        speed: { type: 'string' },
        port: { type: 'string' },
        'no-open': { type: 'boolean' },
        linger: { type: 'string' },
        as: { type: 'string' },
        why: { type: 'string' },
      },
      strict: true,
    }));
  } catch (failure) {
    return err(problem('usage', (failure as Error).message.split('\n')[0]));
  }
  const speed = Number(values.speed ?? 1);
  const port = Number(values.port ?? 0);
  const lingerSeconds = Number(values.linger ?? 30);
  if (!(speed >= 0.1 && speed <= 1000)) return err(problem('usage', nodeOptionTexts.speed));
  if (!(Number.isInteger(port) && port >= 0 && port <= 65535)) return err(problem('usage', nodeOptionTexts.port));
  if (!(lingerSeconds >= 0.1 && lingerSeconds <= 86_400)) return err(problem('usage', nodeOptionTexts.linger));
  const role = Role.safeParse(values.as ?? 'operator');
  if (!role.success) return err(problem('usage', nodeOptionTexts.as));
  const firstRun = readSource(values.simulated === true ? 'simulated' : values.source);
  if (firstRun === undefined) return err(problem('usage', nodeOptionTexts.source));
  return ok({
    dataFolder: values.data,
    speed,
    port,
    opensWindow: values['no-open'] !== true,
    firstRun,
    lingerMs: lingerSeconds * 1000,
    role: role.data,
    why: values.why ?? '',
  });
}

function readSource(text: string | undefined): NodeOptions['firstRun'] | undefined {
  if (text === undefined) return 'newcomer';
  if (text === 'none') return 'none';
  const choice = SourceChoice.safeParse(text === 'simulated' || text === 'typed' ? { kind: text } : { kind: 'serial', path: text });
  return choice.success ? choice.data : undefined;
}
