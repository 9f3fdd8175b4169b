/** Entry B: plain Node, and a browser window over loopback. Wiring only. */
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { problem } from '../shared/problem.ts';
import { createApp } from './app.ts';
import { hasDisplay, installedBrowser, openWindow, type OpenedWindow } from './browser/open-window.ts';
import { nodeUsage, readNodeOptions, type NodeOptions } from './node-options.ts';
import { dataFolder as usualDataFolder } from './paths.ts';
import { realPorts } from './real-ports.ts';
import { scaledClock } from './scaled-clock.ts';
import { askFirstForLink } from './session/ask-first.ts';
import { endWhenIdle } from './session/idle-end.ts';
import { takeLock, type InstanceLock } from './session/instance-lock.ts';
import { ownFolder } from './store/files.ts';
import { systemClock } from './system-clock.ts';
import { WINDOW_CODE_MS } from './transport/access.ts';
import { createUploads } from './transport/uploads.ts';
import { startLoopback } from './transport/websocket.ts';
import { readWindowFiles } from './transport/window-files.ts';
import { clockLedByParent } from './led-clock.ts';
import { handleUncaught } from './log/last-words.ts';
import { oneLine, openLog } from './log/log.ts';
import { appVersion } from './version.ts';
import { problemLine } from '../shared/words/problems.ts';
import { nodeTexts } from '../shared/words/commands/start.ts';

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const fail = (text: string, code: number): never => {
  process.stderr.write(`${text}\n`);
  process.exit(code);
};
// a terminal that went away must not end a run
process.stdout.on('error', () => undefined);
process.stderr.on('error', () => undefined);

if (process.argv.includes('--help')) {
  say(nodeUsage);
  process.exit(0);
}
const read = readNodeOptions(process.argv.slice(2));
const options = read.ok ? read.value : fail(problemLine(read.error), 2);
// what is written is for this account alone
process.umask(0o077);
const folder = resolve(options.dataFolder ?? usualDataFolder());
if (options.dataFolder === undefined) ownFolder(folder);

const taken = tryLock();
if ('holder' in taken) await openFirst(taken.holder);
else await run(taken.lock);

function tryLock(): ReturnType<typeof takeLock> {
  try {
    return takeLock(folder, 'browser');
  } catch (failure) {
    return fail(problemLine(problem('store-read-only', (failure as Error).message)), 1);
  }
}

/** Somebody has this folder open already: a window of that one is what the person wants. */
async function openFirst(holder: Parameters<typeof askFirstForLink>[0]): Promise<void> {
  const link = await askFirstForLink(holder, options.role);
  if (link === undefined) fail(problemLine(problem('store-locked', nodeTexts.heldBy(holder.pid, folder))), 1);
  const browser = browserToUse(options);
  if (browser !== undefined && link !== undefined) openWindow(browser, link, folder, () => undefined).process.unref();
  say(`Flueside is running already; ${browser === undefined ? 'open' : 'a window opens at'} ${link}`);
}

async function run(lock: InstanceLock): Promise<void> {
  const uploads = createUploads(folder, systemClock);
  const log = openLog(folder, systemClock);
  const app = createApp({
    log,
    clock: clockLedByParent(process, process.env, systemClock) ?? scaledClock(systemClock, options.speed),
    windowClock: systemClock,
    dataFolder: folder,
    version: appVersion,
    host: 'browser',
    platform: process.platform,
    firstRun: options.firstRun,
    takeUpload: (token) => uploads.take(token),
    ...realPorts(),
  });
  handleUncaught(process, {
    log,
    close: () => app.close('by-system'),
    say: (failure) => void process.stderr.write(`${problemLine(problem('internal', oneLine(failure)))}\n`),
    sleep: (ms) => systemClock.sleep(ms),
  });
  const files = readWindowFiles(fileURLToPath(new URL('../renderer', import.meta.url)));
  const host = await startLoopback({
    app,
    clock: systemClock,
    files,
    uploads,
    port: options.port,
  }).catch((failure: Error) => {
    lock.release();
    return fail(nodeTexts.cannotListen(options.port, failure.message), 1);
  });
  lock.announce({ address: host.address, secret: host.secret });

  let closeBrowser = (): unknown => undefined;
  const stopWatching = endWhenIdle({
    clock: systemClock,
    afterMs: options.lingerMs,
    windows: () => app.windows(),
    isCapturing: () => app.isCapturing(),
    onChange: (listener) => app.onChange(listener),
    onStay: () => say(nodeTexts.runGoesOn(host.newLink('operator'))),
    onEnd: () => void end('by-person', nodeTexts.ends),
  });

  let endingSinceMs: number | undefined;
  async function end(ended: Parameters<typeof app.close>[0], text = 'Flueside ends.'): Promise<void> {
    if (endingSinceMs !== undefined) return;
    endingSinceMs = systemClock.nowMs();
    stopWatching();
    say(text);
    closeBrowser();
    await Promise.race([app.close(ended), systemClock.sleep(5000)]);
    await Promise.race([host.close(), systemClock.sleep(1000)]);
    lock.release();
    process.exit(0);
  }
  process.on('SIGINT', () => {
    // one Ctrl-C may arrive twice, from the terminal and from npm; a later one means "now"
    if (endingSinceMs !== undefined && systemClock.nowMs() - endingSinceMs > 1000) process.exit(130);
    void end('by-person');
  });
  for (const signal of ['SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void end('by-system'));
  // the starter is gone (closed terminal, killed): nobody could end us any more
  process.on('disconnect', () => void end('by-system'));

  const browser = browserToUse(options);
  const why = options.why === '' ? '' : ` (${options.why})`;
  if (browser === undefined) {
    const hint = options.opensWindow ? ` ${noWindowReason()}` : '';
    say(nodeTexts.isAt(host.newLink('operator'), why, hint));
    return;
  }
  say(nodeTexts.opensBrowser(why, host.newLink('operator')));
  const opened = open(browser, host.newLink('operator', WINDOW_CODE_MS), () => host.newLink('operator'));
  closeBrowser = () => opened.process.kill();
}

function open(browser: string, link: string, anotherLink: () => string): OpenedWindow {
  return openWindow(browser, link, folder, (why) => say(nodeTexts.browserDidNotOpen(why, anotherLink())));
}

function browserToUse({ opensWindow }: NodeOptions): string | undefined {
  return opensWindow && hasDisplay(process.platform, process.env) ? installedBrowser() : undefined;
}

function noWindowReason(): string {
  return hasDisplay(process.platform, process.env) ? nodeTexts.noBrowser : nodeTexts.openInBrowser;
}
