import type { Mark, MarkEdit, Setting } from '../measurement/mark.ts';

/** The marks of a run with their moves and undoings applied; the originals stay in the run file. */
export interface MarkBook {
  /** in time order, without those undone */
  readonly all: readonly Mark[];
  add(mark: Mark): void;
  edit(edit: MarkEdit): void;
  /** the setting that stands after all marks */
  setting(): Setting | undefined;
}

const MOST = 5000;

export function createMarkBook(first: Setting | undefined): MarkBook {
  const marks: Mark[] = [];
  const ids = new Set<string>();
  const takeOut = (id: string): Mark | undefined => {
    if (!ids.delete(id)) return undefined;
    return marks.splice(
      marks.findLastIndex((mark) => mark.id === id),
      1,
    )[0];
  };
  /** Marks come in order but for those that were moved: nearly always the place is at the end. */
  const putIn = (mark: Mark): void => {
    ids.add(mark.id);
    marks.splice(marks.findLastIndex(({ timeMs }) => timeMs <= mark.timeMs) + 1, 0, mark);
    const oldest = marks.length > MOST ? marks.shift() : undefined;
    if (oldest !== undefined) ids.delete(oldest.id);
  };
  return {
    get all() {
      return marks;
    },
    add(mark) {
      takeOut(mark.id);
      putIn(mark);
    },
    edit(edit) {
      const mark = takeOut(edit.markId);
      if (mark !== undefined && edit.kind !== 'undone') putIn({ ...mark, timeMs: edit.timeMs });
    },
    setting() {
      for (let index = marks.length - 1; index >= 0; index--) {
        const body = marks[index]?.body;
        if (body?.kind === 'adjustment') return body.setting;
      }
      return first;
    },
  };
}
