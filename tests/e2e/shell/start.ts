import { closeFakeBrowser, startFakeShell } from './fake-shell.ts';
import { startRealShell } from './real-shell.ts';
import type { Shell, ShellOptions } from './shell.ts';

/** set by `npm run shell`: a real Electron; else the stand-in */
export const isReal = process.env['FLUESIDE_SHELL_PROGRAM'] !== undefined;

export const startShell = (options?: ShellOptions): Promise<Shell> => (isReal ? startRealShell(options) : startFakeShell(options));

export const endShells = (): Promise<void> => closeFakeBrowser();
