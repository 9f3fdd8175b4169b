import type { Transport } from '../../shared/ipc/transport.ts';

export type Connection = { kind: 'open'; transport: Transport } | { kind: 'refused'; reason: string };
