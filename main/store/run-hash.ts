import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { runFilePath } from '../runs/file/run-path.ts';

/** SHA-256 of a run file as it stands, hex; undefined when there is none. */
export async function hashRunFile(dataFolder: string, runId: string): Promise<string | undefined> {
  const hash = createHash('sha256');
  try {
    for await (const chunk of createReadStream(runFilePath(dataFolder, runId)) as AsyncIterable<Uint8Array>) hash.update(chunk);
    return hash.digest('hex');
  } catch {
    return undefined;
  }
}
