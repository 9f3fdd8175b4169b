import type { Output } from '../../../../shared/ipc/contract.ts';

export type SourceList = Output<'source.list'>;
