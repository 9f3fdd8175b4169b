/** What the stand-in for Electron and the journey say to each other. */
import type { PrintToPDFOptions } from 'electron';

export type FromShell =
  | { kind: 'load'; id: number; window: number; address: string; width: number; height: number; hasPreload: boolean }
  | { kind: 'shown'; window: number }
  | { kind: 'gone'; window: number }
  | { kind: 'send'; window: number; channel: string; message: unknown }
  | { kind: 'print'; id: number; window: number; options: PrintToPDFOptions }
  | { kind: 'question'; id: number; message: string; detail: string; buttons: string[] }
  | { kind: 'save'; id: number; path: string | undefined }
  | { kind: 'is-awake'; id: number; value: boolean }
  | { kind: 'breach'; what: string };

export type ToShell =
  | { kind: 'answer'; id: number; value?: unknown; failure?: string }
  | { kind: 'wire'; window: number; channel: string; message: unknown; frame: { address: string; isMain: boolean } }
  | { kind: 'press-cross'; window: number }
  | { kind: 'crashed'; window: number }
  | { kind: 'download'; id: number; address: string; fileName: string }
  | { kind: 'is-awake'; id: number }
  | { kind: 'stand-still'; ms: number }
  | { kind: 'wait-in-dialog' };
