/** Why a port could not be opened. The library's errors carry no codes, only the system's words, so the words are told apart. */
import { problem, type Problem, type ProblemCode } from '../../shared/problem.ts';

const words: readonly [RegExp, ProblemCode][] = [
  [/cannot lock port|temporarily unavailable|resource busy|device or resource busy|EBUSY/i, 'port-busy'],
  [/permission denied|EACCES|EPERM|operation not permitted/i, 'port-no-permission'],
  [/no such file|no such device|file not found|cannot find|not found|ENOENT|ENODEV|ENXIO|is a directory/i, 'port-not-found'],
  [
    /inappropriate ioctl|stop bits|data bits|parity|invalid (?:argument|parameter|baud)|not supported|is not a valid|must be|parameter is incorrect|stopbits|databits|baudrate|EINVAL|ENOTTY/i,
    'port-settings',
  ],
];

/** @param platform Windows says "access denied" when another program has the port */
export function portProblem(cause: unknown, path: string, platform: string = process.platform): Problem {
  const text = cause instanceof Error ? cause.message : String(cause);
  const detail = `${path}: ${text.replace(/^Error:\s*/, '')}`;
  if (/access (?:is )?denied/i.test(text)) return problem(platform === 'win32' ? 'port-busy' : 'port-no-permission', detail);
  for (const [pattern, code] of words) if (pattern.test(text)) return problem(code, detail);
  return problem('port-lost', detail);
}
