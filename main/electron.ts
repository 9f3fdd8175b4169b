/** Entry A: the desktop shell. Wiring only; what it decides stands in main/shell and is tested there. */
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { app, BrowserWindow, dialog, ipcMain, Menu, nativeTheme, powerMonitor, powerSaveBlocker, protocol, session, shell } from 'electron';
import { problem, problemLine } from '../shared/problem.ts';
import { createApp, type App } from './app.ts';
import { readNodeOptions } from './node-options.ts';
import { dataFolder as usualDataFolder, documentsFolder } from './paths.ts';
import { realPorts } from './real-ports.ts';
import { scaledClock } from './scaled-clock.ts';
import { askFirstForLink } from './session/ask-first.ts';
import { takeLock, type InstanceLock } from './session/instance-lock.ts';
import { answerAppRequest } from './shell/app-protocol.ts';
import { closingQuestion, endsRun } from './shell/closing-question.ts';
import { hardenContents, hardenSession } from './shell/harden.ts';
import { menuEntries } from './shell/menu.ts';
import { APP_ADDRESS, APP_SCHEME } from './shell/own-page.ts';
import { createPdfPrinter } from './shell/pdf-printer.ts';
import { createPowerGuard } from './shell/power-guard.ts';
import { isOwnFile, readShellArguments } from './shell/shell-arguments.ts';
import { printWindowOptions, windowOptions } from './shell/window-options.ts';
import { systemClock } from './system-clock.ts';
import { electronTransport } from './transport/electron.ts';
import { newToken } from './transport/token.ts';
import { createUploads } from './transport/uploads.ts';
import { readWindowFiles } from './transport/window-files.ts';
import { appVersion } from './version.ts';

const beside = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const isPackaged = app.isPackaged;
const started = readShellArguments(process.argv, isPackaged);
const read = readNodeOptions(started.options);
const options = read.ok ? read.value : undefined;
const folder = resolve(options?.dataFolder ?? usualDataFolder());

// all before 'ready': the scheme, the sandbox for everything, and where Chromium keeps its own files
protocol.registerSchemesAsPrivileged([
  { scheme: APP_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
]);
app.enableSandbox();
app.setPath('userData', join(folder, 'shell'));
app.setAppUserModelId('app.flueside.desktop');
app.on('web-contents-created', (_event, contents) => hardenContents(contents));

/** Files that the system wants opened before we are ready for them. */
const waitingFiles: string[] = [...started.files];
let takeIn = (path: string): void => void waitingFiles.push(path);
app.on('open-file', (event, path) => {
  event.preventDefault();
  takeIn(path);
});

if (started.command !== undefined) await runCommand(started.command);
else if (!app.requestSingleInstanceLock()) app.quit();
else void app.whenReady().then(start).catch(giveUp);

/** `flueside-cli` of an installed app: the command line, in this process, without a window. It ends the process itself. */
async function runCommand(words: readonly string[]): Promise<void> {
  app.dock?.hide();
  process.argv = [process.execPath, process.execPath, ...words];
  await import('./cli.ts');
}

function giveUp(failure: unknown): void {
  dialog.showErrorBox('Flueside', failure instanceof Error ? failure.message : String(failure));
  app.exit(1);
}

async function start(): Promise<void> {
  if (!read.ok) throw new Error(problemLine(read.error));
  const taken = takeLock(folder, 'electron');
  if ('holder' in taken) {
    const link = await askFirstForLink(taken.holder);
    if (link === undefined) throw new Error(problemLine(problem('store-locked')));
    await shell.openExternal(link);
    return app.exit(0);
  }
  run(taken.lock);
}

function run(lock: InstanceLock): void {
  const uploads = createUploads(join(folder, 'uploads'), systemClock);
  const printer = createPdfPrinter(() => new BrowserWindow(printWindowOptions()));
  const flueside = createApp({
    clock: scaledClock(systemClock, options?.speed ?? 1),
    dataFolder: folder,
    version: appVersion,
    host: 'electron',
    platform: process.platform,
    firstRun: options?.firstRun ?? 'newcomer',
    takeUpload: (token) => uploads.take(token),
    printPdf: (html) => printer.print(html),
    ...realPorts(),
  });
  const files = readWindowFiles(beside('../renderer'));
  protocol.handle(APP_SCHEME, (request) =>
    answerAppRequest(request, {
      files,
      takeDownload: (token) => flueside.takeDownload(token),
      takePage: (token) => printer.takePage(token),
      reportPage: (token) => flueside.reportPage(token),
      uploads,
    }),
  );
  hardenSession(session.defaultSession, { allowsTools: !isPackaged, exportsFolder: documentsFolder() });
  flueside.onChange(createPowerGuard(powerSaveBlocker, () => flueside.isCapturing()));

  let window: BrowserWindow | undefined;
  const show = (): void => {
    window ??= openWindow(flueside, () => (window = undefined));
    if (window.isMinimized()) window.restore();
    window.focus();
  };
  takeIn = (path) =>
    void flueside.openFile(path).then((result) => (result.ok ? show() : dialog.showErrorBox('Flueside', problemLine(result.error))));
  waitingFiles.splice(0).forEach(takeIn);

  app.on('second-instance', (_event, argv) => {
    show();
    readShellArguments(argv, isPackaged).files.forEach(takeIn);
  });
  app.on('activate', show);
  app.on('window-all-closed', () => app.quit());
  powerMonitor.on('shutdown', () => void end('by-system'));

  let ended = false;
  const end = async (by: Parameters<App['close']>[0]): Promise<void> => {
    if (ended) return;
    ended = true;
    await Promise.race([flueside.close(by), systemClock.sleep(5000)]);
    uploads.close();
    lock.release();
    app.exit(0);
  };
  // after every window has agreed to close
  app.on('will-quit', (event) => {
    event.preventDefault();
    void end('by-person');
  });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.on(signal, () => void end(signal === 'SIGINT' ? 'by-person' : 'by-system'));
  process.on('disconnect', () => void end('by-system'));

  Menu.setApplicationMenu(
    Menu.buildFromTemplate(
      menuEntries({
        platform: process.platform,
        isPackaged,
        openFile: () => void askForFile().then((path) => path !== undefined && takeIn(path)),
        showDataFolder: () => void shell.openPath(folder),
      }),
    ),
  );
  show();
}

function openWindow(flueside: App, onClosed: () => void): BrowserWindow {
  const icon = process.platform === 'linux' ? beside('../../main/resources/icon.png') : undefined;
  const window = new BrowserWindow(
    windowOptions({ preload: beside('preload.cjs'), icon, isDark: nativeTheme.shouldUseDarkColors, isPackaged }),
  );
  const key = newToken();
  let detach: (() => void) | undefined;
  const attach = (): void => {
    detach?.();
    const { transport, close } = electronTransport(ipcMain, window.webContents);
    const stop = flueside.attach(transport, { clientId: newToken(), key, grant: 'operator' });
    detach = () => {
      stop();
      close();
    };
  };
  // one client for the window's whole life: a page that was reloaded simply says hello again
  attach();
  let lastCrashMs = -Infinity;
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    attach();
    const wasJust = systemClock.nowMs() - lastCrashMs < 10_000;
    lastCrashMs = systemClock.nowMs();
    // the run is not in the window: a new one shows it again; a page that crashes at once stays closed until "Reload"
    if (reason !== 'clean-exit' && !wasJust) void window.loadURL(APP_ADDRESS);
  });
  window.on('close', (event) => {
    if (flueside.isCapturing() && !endsRun(dialog.showMessageBoxSync(window, closingQuestion))) event.preventDefault();
  });
  window.on('closed', () => {
    detach?.();
    onClosed();
  });
  window.once('ready-to-show', () => window.show());
  void window.loadURL(APP_ADDRESS);
  return window;
}

async function askForFile(): Promise<string | undefined> {
  const { filePaths } = await dialog.showOpenDialog({
    properties: ['openFile'],
    filters: [{ name: 'Runs and line recipes of Flueside', extensions: ['flueside-run', 'flueside-recipe'] }],
  });
  return filePaths.find(isOwnFile);
}
