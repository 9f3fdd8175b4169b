import { mkdirSync, readFileSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import type { Clock } from '../../shared/clock.ts';
import { patched, Settings, type SettingsPatch } from '../../shared/ipc/settings.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { isoWallTime } from './wall-time.ts';
import { writeWhole } from '../store/files.ts';

export const SETTINGS_FILE = 'settings.json';

export interface SettingsFile {
  current(): Settings;
  /** Nothing changes when it cannot be written. */
  change(patch: SettingsPatch): Result<Settings, Problem>;
  /** Reads the file again: another one took its place. @returns what was wrong with it */
  reload(): Problem | undefined;
  /** what was wrong with the file at the start, once */
  readonly atStart: Problem | undefined;
}

/**
 * Settings live in one JSON file. A damaged one is set aside under another name, never overwritten, and the printed settings are used.
 * A part that a newer or older version does not know is left out, the rest is kept.
 */
export function openSettings(folder: string, clock: Clock): SettingsFile {
  const path = join(folder, SETTINGS_FILE);
  const loaded = load(path, clock);
  let current = loaded.settings;

  return {
    current: () => current,
    change(patch) {
      const checked = Settings.safeParse(patched(current, patch));
      if (!checked.success) return err(problem('request-invalid', checked.error.message));
      try {
        mkdirSync(folder, { recursive: true });
        writeWhole(path, `${JSON.stringify(checked.data, null, 2)}\n`, 0o600);
      } catch (error) {
        return err(writeProblem(error));
      }
      current = checked.data;
      return ok(current);
    },
    reload() {
      const again = load(path, clock);
      current = again.settings;
      return again.problem;
    },
    atStart: loaded.problem,
  };
}

type Loaded = { settings: Settings; problem: Problem | undefined };

function load(path: string, clock: Clock): Loaded {
  const printed = Settings.parse({});
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    return { settings: printed, problem: missing ? undefined : problem('settings-damaged', (error as Error).message) };
  }
  const whole = Settings.safeParse(parseJson(text));
  if (whole.success) return { settings: whole.data, problem: undefined };
  return { settings: salvage(parseJson(text)) ?? printed, problem: problem('settings-damaged', setAside(path, clock)) };
}

/** Every part that is right by itself is kept: one wrong figure must not cost the technician's name. */
function salvage(value: unknown): Settings | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return undefined;
  const kept = Object.entries(value as Record<string, unknown>).filter(([name, part]) => Settings.safeParse({ [name]: part }).success);
  const settings = Settings.safeParse(Object.fromEntries(kept));
  return settings.success ? settings.data : undefined;
}

function setAside(path: string, clock: Clock): string {
  const aside = path.replace(/\.json$/, `.damaged-${isoWallTime(clock)}.json`);
  try {
    renameSync(path, aside);
    return `It is kept as ${aside}.`;
  } catch (error) {
    return (error as Error).message;
  }
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function writeProblem(error: unknown): Problem {
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'ENOSPC' || code === 'EDQUOT') return problem('disk-full', message);
  if (code === 'EROFS' || code === 'EACCES' || code === 'EPERM') return problem('store-read-only', message);
  return problem('disk-failed', message);
}
