/** A stored run as the report shows it: its file read once through the chain, with the hash of the file as it stands. */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import type { FoldSettings } from '../../shared/pipeline/fold-run.ts';
import { gatherRun } from '../../shared/report/gather-run.ts';
import type { ReportRun } from '../../shared/report/report-input.ts';
import { openRunFile } from '../runs/run-file.ts';
import { createRunFolder } from '../runs/run-folder.ts';

/** entries before the event loop gets its turn: a long run must not stop the one being captured */
const PORTION = 500;

/** @returns undefined when there is no such file, or none that can be read */
export async function loadReportRun(dataFolder: string, runId: string, settings: FoldSettings): Promise<ReportRun | undefined> {
  const path = createRunFolder(join(dataFolder, 'runs')).pathOf(runId);
  if (path === undefined) return undefined;
  const file = await openRunFile(path);
  if (!file.ok) return undefined;
  const gatherer = gatherRun(file.value.header, settings);
  let count = 0;
  for await (const entry of file.value.entries()) {
    gatherer.push(entry);
    if ((count += 1) % PORTION === 0) await new Promise((resolve) => setImmediate(resolve));
  }
  return gatherer.finish(await hashOf(path));
}

async function hashOf(path: string): Promise<string | undefined> {
  const hash = createHash('sha256');
  try {
    for await (const chunk of createReadStream(path) as AsyncIterable<Uint8Array>) hash.update(chunk);
    return hash.digest('hex');
  } catch {
    return undefined;
  }
}
