import { startRealShell } from './real-shell.ts';
import type { Shell, ShellOptions } from './shell.ts';

export const isReal = process.env['FLUESIDE_SHELL_PROGRAM'] !== undefined;

export const startShell = (options?: ShellOptions): Promise<Shell> => startRealShell(options);
