import { cautionWords } from '../../words/tune.ts';
import { ownerWords, recordWords } from '../../words/report.ts';
import type { Edit } from '../../tuning/visit.ts';
import type { Parts } from '../page-one.ts';
import type { Block, Cell, Section } from '../report-model.ts';
import { editText } from '../edit-words.ts';
import { timesOf } from '../written.ts';

export function notesSection({ visit }: Parts): Section | undefined {
  const times = timesOf(visit);
  const changes = visit.changes.map(({ wallMs, kind, note }) => {
    const what = ownerWords.done.changed[kind];
    return `${times.clock(wallMs)}: ${what}${note === undefined ? '' : `; ${note}`}`;
  });
  const notes = visit.notes.map(({ wallMs, text }) => `${times.clock(wallMs)}: ${text}`);
  const cautions = [...new Set(visit.cautions.map(({ key }) => cautionWords[key]))];
  const part = (title: string, items: readonly string[]): Block[] =>
    items.length === 0
      ? []
      : [
          { kind: 'heading', text: title },
          { kind: 'list', items },
        ];
  const blocks = [...part(recordWords.changed, changes), ...part(recordWords.notesTitle, notes), ...part(recordWords.cautions, cautions)];
  return blocks.length === 0 ? undefined : { title: recordWords.notes, blocks };
}

/** Append-only: what stood before, what stands now, who, when and why. Corrections after signing stand apart. */
export function editsSection(parts: Parts): Section {
  const { visit } = parts;
  const signedAt = visit.signature?.editsBefore ?? visit.edits.length;
  const [before, after] = [visit.edits.slice(0, signedAt), visit.edits.slice(signedAt)];
  const blocks: Block[] = [];
  // first, so that it never stands alone on a last page
  if (visit.signature !== undefined)
    blocks.push({
      kind: 'facts',
      facts: [
        { label: recordWords.labels.signature, value: `${visit.signature.name}, ${timesOf(visit).dayAndTime(visit.signature.wallMs)}` },
        { label: recordWords.labels.recordHash, value: visit.signature.hash },
      ],
    });
  if (after.length > 0)
    blocks.push(
      { kind: 'heading', text: recordWords.corrections },
      { kind: 'text', text: recordWords.correctionsNote, tone: 'strong' },
      editTable(after, parts),
    );
  if (before.length === 0) blocks.push({ kind: 'text', text: recordWords.noEdits });
  else blocks.push({ kind: 'text', text: recordWords.editsNote, tone: 'note' }, editTable(before, parts));
  return { title: recordWords.edits, blocks };
}

function editTable(edits: readonly Edit[], { visit, units, input }: Parts): Block {
  const applianceName = (id: string): string | undefined => (id === visit.applianceId ? input.appliance?.name : undefined);
  const times = timesOf(visit);
  const { columns } = recordWords;
  return {
    kind: 'table',
    columns: [columns.time, columns.by, columns.field, columns.before, columns.after, columns.reason].map((label) => ({ label })),
    rows: edits.map((edit): Cell[] => {
      const { field, before, after } = editText(edit, { visit, units, applianceName });
      return [times.dayAndTime(edit.wallMs), edit.by, field, before, after, edit.reason ?? ''];
    }),
  };
}
