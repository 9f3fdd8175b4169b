/** Entry A: the desktop shell. Wiring only; what it decides is in main/shell and is tested there. */
import { mkdir } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  app,
  BrowserWindow,
  dialog,
  Menu,
  nativeTheme,
  powerMonitor,
  powerSaveBlocker,
  protocol,
  safeStorage,
  session,
  shell,
  type MessageBoxOptions,
} from 'electron';
import type { Role } from '../shared/ipc/session-commands.ts';
import { problem } from '../shared/problem.ts';
import { desktop } from '../shared/words/desktop.ts';
import { writeLinkPage } from './browser/link-page.ts';
import { createApp } from './app.ts';
import { type App } from './app-parts.ts';
import { readNodeOptions } from './node-options.ts';
import { keychainSecrets } from './office/secrets.ts';
import { dataFolder as usualDataFolder } from './paths.ts';
import { realPorts } from './real-ports.ts';
import { scaledClock } from './scaled-clock.ts';
import { askFirstForLink } from './session/ask-first.ts';
import { holderIsAlive, takeLock, type InstanceLock } from './session/instance-lock.ts';
import { answerAppRequest } from './shell/app-protocol.ts';
import { closingQuestion, createClosingGuard } from './shell/closing-question.ts';
import { hardenContents, hardenSession } from './shell/harden.ts';
import { menuEntries } from './shell/menu.ts';
import { APP_SCHEME } from './shell/own-page.ts';
import { askForFile, mayStartWithoutSandbox } from './shell/dialogs.ts';
import { openWindow, placeOf } from './shell/open-window.ts';
import { createPdfPrinter } from './shell/pdf-printer.ts';
import { createPowerGuard } from './shell/power-guard.ts';
import { readSecondStart, readShellArguments, secondStart } from './shell/shell-arguments.ts';
import { showWhenReady } from './shell/show-window.ts';
import { readWindowMemory, withRecentFile, writeWindowMemory, type WindowMemory } from './shell/window-memory.ts';
import { printWindowOptions } from './shell/window-options.ts';
import { ownFolder } from './store/files.ts';
import { systemClock } from './system-clock.ts';
import { createUploads } from './transport/uploads.ts';
import { readWindowFiles } from './transport/window-files.ts';
import { handleUncaught } from './log/last-words.ts';
import { oneLine, openLog } from './log/log.ts';
import { appVersion } from './version.ts';
import { problemLine } from '../shared/words/problems.ts';

const EXIT_USAGE = 2;

const beside = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const isPackaged = app.isPackaged;
const hasNoSandbox = app.commandLine.hasSwitch('no-sandbox');
const started = readShellArguments(process.argv, isPackaged);
const read = readNodeOptions(started.options);
const options = read.ok ? read.value : undefined;
// what is written is for this account alone
if (started.command === undefined) process.umask(0o077);
const folder = resolve(options?.dataFolder ?? usualDataFolder());

/** `flueside-cli` of an installed app: the command line, in this process, without a window. It ends the process itself. */
async function runCommand(words: readonly string[]): Promise<void> {
  app.dock?.hide();
  app.disableHardwareAcceleration();
  // a Windows program with windows has no standard input; reading it would wait for ever
  if (process.platform === 'win32' && words.includes('-')) {
    process.stderr.write(`${desktop.noStandardInput}\n`);
    return app.exit(EXIT_USAGE);
  }
  process.argv = [process.execPath, process.execPath, ...words];
  await import('./cli.ts');
}

/** All that has to come before 'ready': the scheme, the sandbox for everything, and where Chromium keeps its own files. */
function startShell(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: APP_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
  ]);
  // it would take the switch away again, and root would wait for a window for ever
  if (!hasNoSandbox) app.enableSandbox();
  app.setPath('userData', join(folder, 'shell'));
  app.setAppUserModelId('app.flueside.desktop');
  app.on('web-contents-created', (_event, contents) => hardenContents(contents));
  app.on('open-file', (event, path) => {
    event.preventDefault();
    takeIn(path);
  });
  if (started.refused !== undefined || !read.ok) {
    const why = started.refused ?? (read.ok ? '' : problemLine(read.error));
    process.stderr.write(`${why}\n`);
    void app.whenReady().then(() => refuse(why, EXIT_USAGE));
  } else if (!app.requestSingleInstanceLock(secondStart(started.files, askedRole(started.options), process.cwd()))) app.quit();
  else void app.whenReady().then(start).catch(giveUp);
}

/** Files that the system wants opened before we are ready for them. */
const waitingFiles: string[] = [];
let takeIn = (path: string): void => void waitingFiles.push(path);

const askedRole = (words: readonly string[]): Role | undefined =>
  words.some((word) => word === '--as' || word.startsWith('--as=')) ? options?.role : undefined;

async function refuse(why: string, code: number): Promise<void> {
  await dialog.showMessageBox({ type: 'error', title: desktop.name, message: desktop.cannotStart, detail: why });
  app.exit(code);
}

function giveUp(failure: unknown): void {
  const why = failure instanceof Error ? failure.message : String(failure);
  process.stderr.write(`${why}\n`);
  void refuse(why, 1);
}

async function start(): Promise<void> {
  if (!(await mayStartWithoutSandbox(hasNoSandbox))) return app.exit(1);
  if (options?.dataFolder === undefined) ownFolder(folder);
  // one desktop app per folder: with Chromium's own lock held, a lock file of a desktop app is from one that was killed
  const taken = takeLock(folder, 'electron', (holder) => holder.host !== 'electron' && holderIsAlive(holder));
  if ('holder' in taken) {
    const link = await askFirstForLink(taken.holder, options?.role);
    if (link === undefined) throw new Error(problemLine(problem('store-locked')));
    await shell.openExternal(writeLinkPage(folder, link));
    return app.exit(0);
  }
  run(taken.lock, await readWindowMemory(memoryFile));
}

const memoryFile = join(folder, 'shell', 'window.json');
const windowParts = {
  preload: beside('preload.cjs'),
  icon: process.platform === 'linux' ? beside('../../main/resources/icon.png') : undefined,
  isPackaged,
};

function run(lock: InstanceLock, memory: WindowMemory): void {
  const speed = options?.speed ?? 1;
  const exportsFolder = join(app.getPath('documents'), 'Flueside');
  const uploads = createUploads(folder, systemClock);
  const printer = createPdfPrinter(() => new BrowserWindow(printWindowOptions()), systemClock);
  const log = openLog(folder, systemClock);
  const flueside = createApp({
    log,
    clock: scaledClock(systemClock, speed),
    windowClock: systemClock,
    dataFolder: folder,
    version: appVersion,
    host: 'electron',
    platform: process.platform,
    firstRun: options?.firstRun ?? 'newcomer',
    takeUpload: (token) => uploads.take(token),
    printPdf: (html) => printer.print(html),
    secrets: keychainSecrets(folder, {
      // on Linux without a keychain it would only be hidden, not safe
      isAvailable: () =>
        safeStorage.isEncryptionAvailable() && (process.platform !== 'linux' || safeStorage.getSelectedStorageBackend() !== 'basic_text'),
      encrypt: (text) => safeStorage.encryptString(text),
      decrypt: (bytes) => safeStorage.decryptString(Buffer.from(bytes)),
    }),
    // the title bar, menus and dialogs follow the theme that was chosen in the window
    onSettings: ({ theme }) => (nativeTheme.themeSource = theme),
    ...realPorts(),
  });
  handleUncaught(
    { on: (event, listener) => process.on(event, listener), exit: (code) => app.exit(code) },
    {
      log,
      close: () => flueside.close('by-system'),
      say: (failure) => dialog.showErrorBox('Flueside', problemLine(problem('internal', oneLine(failure)))),
      sleep: (ms) => systemClock.sleep(ms),
    },
  );
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
  hardenSession(session.defaultSession, {
    allowsTools: !isPackaged,
    exportsFolder,
    onNotSaved: (fileName) => tell({ type: 'error', message: desktop.notSaved(fileName), detail: desktop.notSavedDetail }),
  });
  // the save dialog opens there only if it is there
  void mkdir(exportsFolder, { recursive: true }).catch(() => undefined);
  flueside.onChange(createPowerGuard(powerSaveBlocker, () => flueside.isCapturing()));

  let ended = false;
  const end = async (by: Parameters<App['close']>[0]): Promise<void> => {
    if (ended) return;
    ended = true;
    await Promise.race([flueside.close(by), systemClock.sleep(5000)]);
    uploads.close();
    lock.release();
    app.exit(0);
  };

  let main: BrowserWindow | undefined;
  /** Beside a running loop: a dialog that waits would stop the time stamps. */
  const tell = (words: MessageBoxOptions): void => {
    const box = { title: desktop.name, ...words };
    void (main === undefined ? dialog.showMessageBox(box) : dialog.showMessageBox(main, box));
  };
  const remember = (more: Partial<WindowMemory>): void => {
    memory = { ...memory, ...more };
    void writeWindowMemory(memoryFile, memory).catch(() => undefined);
  };
  const show = (): void => {
    if (main === undefined) {
      main = openWindow(flueside, { grant: 'operator', memory, ...windowParts });
      main.on('close', () => main !== undefined && remember(placeOf(main)));
      main.on(
        'close',
        createClosingGuard({
          isCapturing: () => !ended && flueside.isCapturing(),
          ask: () => (main === undefined ? Promise.reject(new Error('no window')) : dialog.showMessageBox(main, closingQuestion)),
          close: () => main?.close(),
        }),
      );
      // Windows goes down: what was measured is flushed, a real instrument's run is left open to be gone on with
      main.on('session-end', () => void end('by-system'));
      // a hidden window that is still printing, or one more of a trainee, does not keep the app
      main.on('closed', () => {
        main = undefined;
        void end('by-person');
      });
      showWhenReady(main, systemClock);
      return;
    }
    if (main.isMinimized()) main.restore();
    main.show();
    main.focus();
  };
  const openMore = (role: Role): void =>
    showWhenReady(
      openWindow(flueside, { grant: role, memory: { ...memory, isMaximized: false, isFullScreen: false }, ...windowParts }),
      systemClock,
    );

  takeIn = (path) => void open(path);
  const open = async (path: string): Promise<void> => {
    const result = await flueside.openFile(path);
    show();
    if (!result.ok) return tell({ type: 'error', message: desktop.cannotOpen(basename(path)), detail: problemLine(result.error) });
    remember({ recentFiles: withRecentFile(memory.recentFiles, path) });
    app.addRecentDocument(path);
    setMenu();
    const { value } = result;
    tell({
      type: 'info',
      message: value.kind === 'run' ? desktop.runAdded(basename(path), value.wasHere) : desktop.recipeAdded(value.name),
    });
  };
  const setMenu = (): void =>
    Menu.setApplicationMenu(
      Menu.buildFromTemplate(
        menuEntries({
          platform: process.platform,
          isPackaged,
          openFile: () => void askForFile(main).then((path) => path !== undefined && takeIn(path)),
          recentFiles: memory.recentFiles,
          openRecent: (path) => takeIn(path),
          showDataFolder: () => void shell.openPath(folder),
        }),
      ),
    );

  app.on('second-instance', (_event, _argv, _folder, handedOver) => {
    const second = readSecondStart(handedOver);
    if (second.role === undefined) show();
    else openMore(second.role);
    second.files.forEach((path) => takeIn(path));
  });
  app.on('activate', show);
  app.on('window-all-closed', () => void end('by-person'));
  powerMonitor.on('shutdown', () => void end('by-system'));
  // after every window has agreed to close
  app.on('will-quit', (event) => {
    event.preventDefault();
    void end('by-person');
  });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.on(signal, () => void end(signal === 'SIGINT' ? 'by-person' : 'by-system'));
  process.on('disconnect', () => void end('by-system'));

  setMenu();
  show();
  [...waitingFiles.splice(0), ...secondStart(started.files, undefined, process.cwd()).files].forEach((path) => takeIn(path));
}

if (started.command !== undefined) void runCommand(started.command);
else startShell();
