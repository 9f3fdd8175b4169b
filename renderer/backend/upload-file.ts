import {
  BACKUP_LIMIT_BYTES,
  KEY_HEADER,
  KEY_SLOT,
  KIND_HEADER,
  NAME_HEADER,
  UPLOAD_LIMIT_BYTES,
  UPLOAD_PATH,
  type UploadKind,
} from '../../shared/ipc/handshake.ts';
import { UploadDone } from '../../shared/ipc/handshake-schemas.ts';
import { Problem } from '../../shared/problem-schema.ts';

export type Uploaded = { upload: string } | 'too-big' | 'disk-full' | 'failed';

/** Hands one file in; what comes back is named in the command that uses it. */
export async function uploadFile(file: File, kind: UploadKind = 'file'): Promise<Uploaded> {
  if (file.size > (kind === 'backup' ? BACKUP_LIMIT_BYTES : UPLOAD_LIMIT_BYTES)) return 'too-big';
  try {
    const answer = await fetch(`.${UPLOAD_PATH}`, {
      method: 'POST',
      headers: {
        [KEY_HEADER]: sessionStorage.getItem(KEY_SLOT) ?? '',
        [NAME_HEADER]: encodeURIComponent(file.name),
        [KIND_HEADER]: kind,
      },
      body: file,
    });
    const said: unknown = await answer.json();
    if (answer.status === 413) return Problem.safeParse(said).data?.code === 'disk-full' ? 'disk-full' : 'too-big';
    const done = UploadDone.safeParse(said);
    return done.success ? { upload: done.data.upload } : 'failed';
  } catch {
    return 'failed';
  }
}
