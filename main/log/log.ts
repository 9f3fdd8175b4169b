/**
 * What went wrong, for support: one file that rotates, five at most. No names and no readings go in: what failed, where, and the stack. The folder of
 * the person is left out of paths.
 */
import { appendFileSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { createStream, type RotatingFileStream } from 'rotating-file-stream';
import type { Clock } from '../../shared/clock.ts';

export interface Log {
  /** @param where the command, the process or the workspace that failed */
  failed(where: string, failure: unknown): void;
  said(text: string): void;
  /** Written before the call returns: for the last words of a process. */
  failedLast(where: string, failure: unknown): void;
  /** the files there are now, newest last */
  files(): { name: string; text: string }[];
  close(): Promise<void>;
}

const FILE = 'flueside.log';
const MOST_FILES = 5;
const LONGEST_TEXT = 8000;

/** the library counts its older files from 1 and asks for the one that is written with nothing */
const fileName = (index: unknown): string => (typeof index === 'number' && index > 0 ? `flueside.${index}.log` : FILE);

const ageOf = (name: string): number => Number(/\.(\d+)\.log$/.exec(name)?.[1] ?? 0);

export const noLog: Log = {
  failed: () => undefined,
  said: () => undefined,
  failedLast: () => undefined,
  files: () => [],
  close: () => Promise.resolve(),
};

/** A log that cannot be written is no reason to stop: the work goes on without it. */
export function openLog(dataFolder: string, clock: Pick<Clock, 'wallMs'>): Log {
  const folder = join(dataFolder, 'logs');
  let stream: RotatingFileStream | undefined;
  const open = (): RotatingFileStream | undefined => {
    if (stream !== undefined) return stream;
    try {
      mkdirSync(folder, { recursive: true });
      stream = createStream(fileName, {
        path: folder,
        size: '1M',
        rotate: MOST_FILES - 1,
      });
      stream.on('error', () => undefined);
    } catch {
      stream = undefined;
    }
    return stream;
  };
  const lineOf = (level: 'info' | 'error', where: string, text: string): string =>
    `${JSON.stringify({ at: new Date(clock.wallMs()).toISOString(), level, where, text: withoutHome(text).slice(0, LONGEST_TEXT) })}\n`;

  return {
    failed: (where, failure) => void open()?.write(lineOf('error', where, textOf(failure))),
    said: (text) => void open()?.write(lineOf('info', 'host', text)),
    failedLast(where, failure) {
      try {
        mkdirSync(folder, { recursive: true });
        appendFileSync(join(folder, FILE), lineOf('error', where, textOf(failure)));
      } catch {
        // nothing more can be done here
      }
    },
    files() {
      try {
        const names = readdirSync(folder).filter((name) => /^flueside(\.\d+)?\.log$/.test(name));
        return names.sort((a, b) => ageOf(b) - ageOf(a)).map((name) => ({ name, text: readFileSync(join(folder, name), 'utf8') }));
      } catch {
        return [];
      }
    },
    close: () => new Promise((resolve) => (stream === undefined ? resolve() : stream.end(() => resolve()))),
  };
}

/** The failure without its stack, for a sentence. */
export const oneLine = (failure: unknown): string => (failure instanceof Error ? failure.message : String(failure)).split('\n')[0] ?? '';

const textOf = (failure: unknown): string =>
  failure instanceof Error ? (failure.stack ?? `${failure.name}: ${failure.message}`) : String(failure);

const withoutHome = (text: string): string => (homedir().length > 1 ? text.replaceAll(homedir(), '~') : text);
