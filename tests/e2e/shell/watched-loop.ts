/** The loop of Electron's stand-in, watched while a run is measured. */
import { Worker } from 'node:worker_threads';
import { breach } from './journey-channel.ts';

const BEAT = 0;
const MEASURING = 1;
const beats = new Int32Array(new SharedArrayBuffer(8));
export const setMeasuring = (isMeasuring: boolean): void => void Atomics.store(beats, MEASURING, isMeasuring ? 1 : 0);

setInterval(() => Atomics.add(beats, BEAT, 1), 10).unref();
/**
 * What waits for somebody or for something stands still as long as it waits: this is found here. How many milliseconds work takes in the loop is
 * measured by `npm run soak -- stamps`, on a computer that does nothing else: three times slower in one hour than in the next, a journey cannot tell.
 */
const STILL_MS = 1000;
/**
 * A thread of its own counts how long the loop's beat stays the same. It counts its own turns, at most 25 ms each, and takes off what the loop's
 * thread has waited for a processor meanwhile, and what the whole computer was taken away for (where the system tells). Then it asks the loop where it
 * is (not earlier: that takes the loop's time as well); the answer comes with the next line of script.
 */
const watcher = new Worker(
  `const { workerData, parentPort } = require('node:worker_threads');
   const { Session } = require('node:inspector');
   const { readFileSync } = require('node:fs');
   // on Linux: ns on a processor, ns waited for one, turns
   function waitedMs() {
     try { return Number(readFileSync('/proc/' + process.pid + '/task/' + process.pid + '/schedstat', 'latin1').split(' ')[1]) / 1e6; }
     catch { return 0; }
   }
   // what the whole computer was taken away for by the one that lends it, in hundredths of a second
   function takenMs() {
     try { return Number(readFileSync('/proc/stat', 'latin1').split(/ +/, 9)[8] || 0) * 10; }
     catch { return 0; }
   }
   const beats = new Int32Array(workerData);
   let last = -1, stillMs = 0, beforeMs = performance.now(), waitedBeforeMs = waitedMs() + takenMs(), session, where = 'somewhere outside the script';
   function ask() {
     if (session !== undefined) return;
     session = new Session();
     session.connectToMainThread();
     session.on('Debugger.paused', ({ params }) => {
       where = params.callFrames.slice(0, 8).map(({ functionName, location }) => functionName + ':' + (location.lineNumber + 1)).join(' < ');
       session.post('Debugger.resume');
     });
     session.post('Debugger.enable');
     session.post('Debugger.pause');
   }
   setInterval(() => {
     const nowMs = performance.now();
     const turnMs = Math.min(25, nowMs - beforeMs);
     beforeMs = nowMs;
     const beat = Atomics.load(beats, 0);
     const isStill = beat === last && Atomics.load(beats, 1) === 1;
     last = beat;
     if (isStill) {
       stillMs += turnMs;
       if (stillMs > ${STILL_MS}) ask();
       return;
     }
     // what a thread has waited is counted when it gets its turn
     const waitedNowMs = waitedMs() + takenMs();
     if (stillMs - (waitedNowMs - waitedBeforeMs) > ${STILL_MS}) parentPort.postMessage(where);
     waitedBeforeMs = waitedNowMs;
     stillMs = 0;
     session?.disconnect();
     session = undefined;
     where = 'somewhere outside the script';
   }, 10);`,
  { eval: true, workerData: beats.buffer },
);
watcher.unref();
let reported = false;
watcher.on('message', (where: string) => {
  if (!reported) breach(`the loop stood still for more than ${STILL_MS} ms during a run: ${where}`);
  reported = true;
});
