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
  let marks: Mark[] = [];
  const sort = (): void => {
    marks.sort((a, b) => a.timeMs - b.timeMs);
    if (marks.length > MOST) marks = marks.slice(marks.length - MOST);
  };
  return {
    get all() {
      return marks;
    },
    add(mark) {
      marks = marks.filter(({ id }) => id !== mark.id).concat(mark);
      sort();
    },
    edit(edit) {
      marks =
        edit.kind === 'undone'
          ? marks.filter(({ id }) => id !== edit.markId)
          : marks.map((mark) => (mark.id === edit.markId ? { ...mark, timeMs: edit.timeMs } : mark));
      sort();
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
