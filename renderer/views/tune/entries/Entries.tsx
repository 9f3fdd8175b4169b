import { useApp } from '../../../app-parts.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { DraftEntry } from './DraftEntry.tsx';
import { NoteEntry } from './NoteEntry.tsx';
import { PressureEntry } from './PressureEntry.tsx';
import { ProbeEntry } from './ProbeEntry.tsx';
import { ReadingsTable } from './ReadingsTable.tsx';
import { SmokeEntry } from './SmokeEntry.tsx';
import { ValuesEntry } from './ValuesEntry.tsx';

/** At most one small window is open. */
export function Entries({ record }: { record: RunRecord }) {
  const entry = useApp((state) => state.entry);
  const entryOpened = useApp((state) => state.entryOpened);
  const close = (): void => entryOpened(undefined);
  switch (entry) {
    case 'probe':
      return <ProbeEntry record={record} close={close} />;
    case 'smoke':
      return <SmokeEntry record={record} close={close} />;
    case 'draft':
      return <DraftEntry record={record} close={close} />;
    case 'pressure':
      return <PressureEntry close={close} />;
    case 'note':
      return <NoteEntry close={close} />;
    case 'values':
      return <ValuesEntry record={record} close={close} />;
    case 'table':
      return <ReadingsTable record={record} close={close} />;
    case undefined:
      return null;
  }
}
