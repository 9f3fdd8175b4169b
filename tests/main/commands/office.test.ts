import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/office.ts';
import { openRecords } from '../../../main/store/open.ts';
import { storeTables } from '../../../main/store/tables.ts';
import { MAY_3, signedVisit } from '../../helpers/visits/office-items.ts';
import { runCommand } from './run-command.ts';

let root: string;
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'flueside-office-command-'));
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

const run = (data: string, ...args: string[]) => runCommand(command, args, { dataFolder: join(root, data), cwd: root });
async function sign(data: string, id: string): Promise<void> {
  const opened = await openRecords({ folder: join(root, data), wallMs: MAY_3 });
  if (!opened.ok) throw new Error(opened.error.code);
  storeTables(opened.value).visits.adopt(signedVisit(id, { applianceId: 'a-1' }), MAY_3);
  opened.value.close();
}

describe('office', () => {
  it('is started, sent to, fetched from and searched', async () => {
    expect(await run('a', 'init', '--folder', 'share', '--name', 'North')).toMatchObject({
      code: 0,
      out: [expect.stringContaining('North')],
    });
    expect(await run('a', 'init', '--folder', 'share')).toMatchObject({ code: 0, out: [expect.stringContaining('already')] });
    await sign('a', 'v-1');
    expect(await run('a', 'push', '--folder', 'share')).toMatchObject({ code: 0, out: ['Sent: 1. There already: 0.'] });
    expect(JSON.parse((await run('a', 'push', '--folder', 'share', '--json')).out[0] ?? '')).toEqual({ sent: 0, same: 0, not_sent: 0 });
    expect(JSON.parse((await run('a', 'push', '--all', '--folder', 'share', '--json')).out[0] ?? '')).toEqual({
      sent: 0,
      same: 1,
      not_sent: 0,
    });
    expect(JSON.parse((await run('b', 'pull', '--folder', 'share', '--json')).out[0] ?? '')).toMatchObject({ added: 1 });
    expect(JSON.parse((await run('b', 'status', '--folder', 'share', '--json')).out[0] ?? '')).toMatchObject({
      office: 'North',
      items: { visit: 1 },
      to_send: 0,
    });
    const place = join(root, 'share', 'appliances', 'a-1');
    writeFileSync(join(place, readdirSync(place)[0] ?? ''), '{}');
    const checked = await run('a', 'check', '--folder', 'share');
    expect(checked.code).toBe(1);
    expect(checked.out.join('\n')).toContain('changed after it was written');
    expect(await run('a', 'push', '--all', '--folder', 'share')).toMatchObject({ out: ['Sent: 1. There already: 0.'] });
    expect(await run('a', 'check', '--folder', 'share')).toMatchObject({ code: 0 });
  });

  it.each([
    [[], 2, 'Say what to do'],
    [['push'], 1, 'No office is set'],
    [['push', '--folder', 'gone'], 1, 'cannot be reached'],
    [['init'], 2, '--folder or --server'],
    [['init', '--folder', 'x', '--add-laptop', 'y'], 2, 'no users'],
    [['push', '--server', 'office.example'], 2, '--user'],
    [['push', '--folder', 'x', '--server', 'y'], 2, 'not both'],
    [['status', '--server', 'office.example', '--user', 'u', '--no-tls'], 1, 'no encrypted connection'],
    [['push', '--server', '127.0.0.1:1', '--user', 'u', '--no-tls'], 1, 'cannot be reached. Nothing answers at 127.0.0.1, port 1.'],
    [['push', '--server', '[::1]:1', '--user', 'u', '--no-tls'], 1, 'Nothing answers at ::1, port 1.'],
    [['push', '--server', 'fe80::7', '--user', 'u', '--no-tls'], 1, 'fe80::7 is another computer'],
    [['push', '--server', 'localhost:99999', '--user', 'u'], 2, '99999 is no port'],
    [['init', '--folder', join('gone', 'deep')], 1, 'is not there, or its share is not connected'],
    [['push', '--server', 'localhost', '--user', 'u', '--certificate', 'gone.crt'], 1, 'cannot be read'],
  ] as const)('%j is answered in plain words', async (args, code, said) => {
    const done = await run('a', ...args);
    expect(done.code).toBe(code);
    expect(done.errors.join('\n')).toContain(said);
  });
});
