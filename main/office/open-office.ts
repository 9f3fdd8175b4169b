/** The office that is set, opened. */
import { isAbsolute, resolve } from 'node:path';
import type { OfficeChoice } from '../../shared/ipc/office-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { openFolderOffice } from './folder/folder-office.ts';
import type { Office } from './office.ts';
import { officeTexts } from '../../shared/words/host.ts';

export type OpenParts = { readonly wallMs: () => number; readonly password: () => string | undefined };

export async function openOffice(choice: OfficeChoice, parts: OpenParts): Promise<Result<Office, Problem>> {
  if (choice.kind === 'none') return err(problem('office-off'));
  if (choice.kind === 'folder') {
    if (!isAbsolute(choice.folder))
      return err(problem('office-none', choice.folder === '' ? officeTexts.noFolderNamed : officeTexts.nameWholePath));
    return ok(openFolderOffice(resolve(choice.folder), parts));
  }
  if (choice.host === '' || choice.user === '') return err(problem('office-none', officeTexts.nameServerAndUser));
  // the client is big: who has no server does not load it
  const { openPostgresOffice } = await import('./postgres/postgres-office.ts');
  return openPostgresOffice(choice, parts);
}
