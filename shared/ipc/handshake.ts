/**
 * How a window over loopback proves that it was opened by the person at this computer. Only host 2 needs it.
 *
 * 1. The address is `http://127.0.0.1:PORT/#code=CODE`. The window takes the code out of the fragment at once (`history.replaceState`).
 * 2. It opens a WebSocket at `WIRE_PATH` and sends `{ type: 'code', code }` first, or after a reload `{ type: 'key', key }`.
 *    A socket that says nothing for 2 s is closed.
 * 3. The host answers `{ type: 'welcome', key, role }`; the window keeps the key in sessionStorage under `KEY_SLOT`. Everything after is the
 *    three shapes of message.ts. Or the host answers `{ type: 'refused', reason }` and closes.
 *
 * A code works once, a key as long as the host runs. Downloads need neither: their address is the secret and works once.
 */
import type { Problem } from '../problem.ts';
import type { Role } from './session-commands.ts';

export const WIRE_PATH = '/wire';
/** `run.export` answers with a token; its file is at `DOWNLOAD_PATH` + token of the window's own address, in every host, once. */
export const DOWNLOAD_PATH = '/download/';
/** POST the bytes of one file, with the headers below; answers 200 with `UploadDone`, else with a Problem as JSON. */
export const UPLOAD_PATH = '/upload';
export const KEY_HEADER = 'x-flueside-key';
/** the file's own name, `encodeURIComponent`ed */
export const NAME_HEADER = 'x-flueside-name';
/** name of the code in the address's fragment */
export const CODE_FIELD = 'code';
/** sessionStorage slot of the session key */
export const KEY_SLOT = 'flueside.key';
/** what the bytes are for: absent means a file of any kind */
export const KIND_HEADER = 'x-flueside-kind';
export const uploadKinds = ['file', 'backup'] as const;
export type UploadKind = (typeof uploadKinds)[number];
/** a backup may be as big as the records it came from; it is written to the disk as it comes */
export const BACKUP_LIMIT_BYTES = 200 * 1024 * 1024 * 1024;
/** a file that a window may hand in, bytes */
export const UPLOAD_LIMIT_BYTES = 64 * 1024 * 1024;

export type Greeting = { type: 'code'; code: string } | { type: 'key'; key: string };
export type Welcome = { type: 'welcome'; key: string; role: Role } | { type: 'refused'; reason: Problem };

/** What a finished upload is known by in the command that uses it; works once, for ten minutes. */
export type UploadDone = { upload: string; fileName: string; bytes: number };
