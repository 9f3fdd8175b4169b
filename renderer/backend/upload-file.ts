import { KEY_HEADER, KEY_SLOT, NAME_HEADER, UPLOAD_LIMIT_BYTES, UPLOAD_PATH, UploadDone } from '../../shared/ipc/handshake.ts';

export type Uploaded = { upload: string } | 'too-big' | 'failed';

/** Hands one file in; what comes back is named in the command that uses it. */
export async function uploadFile(file: File): Promise<Uploaded> {
  if (file.size > UPLOAD_LIMIT_BYTES) return 'too-big';
  try {
    const answer = await fetch(`.${UPLOAD_PATH}`, {
      method: 'POST',
      headers: { [KEY_HEADER]: sessionStorage.getItem(KEY_SLOT) ?? '', [NAME_HEADER]: encodeURIComponent(file.name) },
      body: file,
    });
    if (answer.status === 413) return 'too-big';
    const done = UploadDone.safeParse(await answer.json());
    return done.success ? { upload: done.data.upload } : 'failed';
  } catch {
    return 'failed';
  }
}
