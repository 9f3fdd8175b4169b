import { cautionWords } from '../../words/tune.ts';
import { ownerWords, recordWords } from '../../words/report.ts';
import type { Edit } from '../../tuning/visit.ts';
import type { Parts } from '../page-one.ts';
import type { Block, Cell, Section } from '../report-model.ts';
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
export function editsSection({ visit }: Parts): Section {
  const signedAt = visit.signature?.editsBefore ?? visit.edits.length;
  const [before, after] = [visit.edits.slice(0, signedAt), visit.edits.slice(signedAt)];
  const blocks: Block[] = [];
  if (after.length > 0)
    blocks.push(
      { kind: 'heading', text: recordWords.corrections },
      { kind: 'text', text: recordWords.correctionsNote, tone: 'strong' },
      editTable(after, visit),
    );
  if (before.length === 0) blocks.push({ kind: 'text', text: recordWords.noEdits });
  else blocks.push({ kind: 'text', text: recordWords.editsNote, tone: 'note' }, editTable(before, visit));
  if (visit.signature !== undefined)
    blocks.push({
      kind: 'facts',
      facts: [
        { label: recordWords.labels.signature, value: `${visit.signature.name}, ${timesOf(visit).dayAndTime(visit.signature.wallMs)}` },
        { label: recordWords.labels.recordHash, value: visit.signature.hash },
      ],
    });
  return { title: recordWords.edits, blocks };
}

function editTable(edits: readonly Edit[], visit: Parts['visit']): Block {
  const times = timesOf(visit);
  const { columns } = recordWords;
  return {
    kind: 'table',
    columns: [columns.time, columns.by, columns.field, columns.before, columns.after, columns.reason].map((label) => ({ label })),
    rows: edits.map(({ wallMs, by, path, before, after, reason }): Cell[] => [
      times.dayAndTime(wallMs),
      by,
      path.map((key) => (typeof key === 'number' ? String(key + 1) : spaced(key))).join(' › '),
      valueText(before),
      valueText(after),
      reason ?? '',
    ]),
  };
}

/** 'settingFound' -> 'setting found' */
const spaced = (key: string): string => key.replace(/([a-z])([A-Z])/g, (_, low: string, up: string) => `${low} ${up.toLowerCase()}`);

const MOST = 160;
function valueText(value: unknown): string {
  if (value === undefined) return recordWords.absent;
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > MOST ? `${text.slice(0, MOST)}…` : text;
}
