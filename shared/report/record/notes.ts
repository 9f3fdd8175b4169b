import { cautionWords } from '../../words/visit/cautions.ts';
import { ownerWords } from '../../words/paper/owner-page.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import type { Edit } from '../../tuning/visit/visit.ts';
import type { Block, Section } from '../report-model.ts';
import { editText, isShown } from '../edit-words.ts';
import { hashInGroups, timesOf } from '../written.ts';
import type { Parts } from '../pages/page-parts.ts';

const MOST_BESIDE = 500;

export function notesSection({ visit }: Parts): Section | undefined {
  const times = timesOf(visit);
  const changes = visit.changes.map(({ wallMs, kind, note }) => {
    const what = ownerWords.done.changed[kind];
    return `${times.clock(wallMs)}: ${what}${note === undefined ? '' : `; ${note}`}`;
  });
  const notes = visit.notes.map(({ wallMs, text }) => `${times.clock(wallMs)}: ${text}`);
  const part = (title: string, items: readonly string[]): Block[] =>
    items.length === 0
      ? []
      : [
          { kind: 'heading', text: title },
          { kind: 'list', items },
        ];
  const columns = [part(recordWords.changed, changes), part(recordWords.notesTitle, notes)];
  // short ones side by side; long notes want the whole width
  const isShort = columns.every((blocks) => blocks.length > 0) && [...changes, ...notes].join('').length < MOST_BESIDE;
  const blocks: Block[] = isShort ? [{ kind: 'columns', columns }] : columns.flat();
  return blocks.length === 0 ? undefined : { title: recordWords.notes, blocks };
}

/** Who signed, and what was corrected since; every other edit is in the annex. */
export function signatureSection(parts: Parts): Section {
  const { visit } = parts;
  const { signature, edits, cautions } = visit;
  const blocks: Block[] = [];
  if (signature !== undefined)
    blocks.push({
      kind: 'hash',
      label: `${signature.name}, ${timesOf(visit).dayAndTime(signature.wallMs)}. ${recordWords.labels.recordHash}:`,
      text: hashInGroups(signature.hash),
    });
  const after = edits.slice(signature?.editsBefore ?? edits.length);
  if (after.length > 0)
    blocks.push(
      { kind: 'heading', text: recordWords.corrections },
      { kind: 'text', text: recordWords.correctionsNote, tone: 'strong' },
      ...editLines(after, parts),
    );
  blocks.push({ kind: 'text', text: recordWords.annexNote(edits.length - after.length, cautions.length), tone: 'note' });
  return { title: recordWords.edits, blocks };
}

/** Append-only: what stood before, what stands now, who, when and why; and the cautions that were acknowledged. */
export function annexSection(parts: Parts): Section {
  const { visit } = parts;
  const times = timesOf(visit);
  const edits = visit.edits.slice(0, visit.signature?.editsBefore ?? visit.edits.length);
  const cautions = visit.cautions.map(({ key, wallMs }) => `${times.clock(wallMs)} ${cautionWords[key]}`);
  return {
    title: recordWords.annex,
    blocks: [
      { kind: 'text', text: edits.length === 0 ? recordWords.noEdits : recordWords.editsNote, tone: 'note' },
      ...editLines(edits, parts),
      ...(cautions.length === 0
        ? []
        : [
            { kind: 'heading' as const, text: recordWords.cautions },
            { kind: 'list' as const, items: [...new Set(cautions)] },
          ]),
    ],
  };
}

/** Days as headings; below them one line for what a person changed on one screen within one minute. */
function editLines(edits: readonly Edit[], { visit, units, input }: Parts): Block[] {
  const applianceName = (id: string): string | undefined => (id === visit.applianceId ? input.appliance?.name : undefined);
  const times = timesOf(visit);
  type Line = { day: string; start: string; screen: string; parts: string[] };
  const lines: Line[] = [];
  for (const edit of edits.filter(isShown)) {
    const { field, before, after } = editText(edit, { visit, units, applianceName });
    const day = times.day(edit.wallMs);
    const start = `${times.clock(edit.wallMs)} ${edit.by}`;
    const screen = String(edit.path[0]);
    const text = recordWords.edit(field, before, after, edit.reason);
    const last = lines.at(-1);
    if (last !== undefined && last.day === day && last.start === start && last.screen === screen) last.parts.push(text);
    else lines.push({ day, start, screen, parts: [text] });
  }
  return [...new Set(lines.map(({ day }) => day))].flatMap((day): Block[] => [
    { kind: 'heading', text: day },
    {
      kind: 'list',
      items: lines.filter((line) => line.day === day).map((line) => `${line.start}: ${line.parts.join('; ')}`),
    },
  ]);
}
