/** The marks of a run, as they are now: in time order, each once, with moves and undoings; nothing that was marked is lost on the way. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mark } from '../../../shared/measurement/mark.ts';
import { createMarkBook } from '../../../shared/pipeline/mark-book.ts';

const shutter = (value: number) => ({ stage: '1', positions: [{ name: 'Shutter', value }] });
const turned = (id: string, timeMs: number, value: number): Mark => ({ id, timeMs, body: { kind: 'adjustment', setting: shutter(value) } });
const note = (id: string, timeMs: number): Mark => ({ id, timeMs, body: { kind: 'note', text: id } });
const ids = (book: ReturnType<typeof createMarkBook>): string[] => book.all.map(({ id }) => id);

describe('the marks of a run', () => {
  it('stand in time order, those of one moment as they came', () => {
    const book = createMarkBook(undefined);
    for (const mark of [note('b', 20), note('d', 40), note('a', 10), note('c', 20), note('e', 40)]) book.add(mark);
    expect(ids(book)).toEqual(['a', 'b', 'c', 'd', 'e']);
  });

  it('are each there once: one that comes again takes its own place', () => {
    const book = createMarkBook(undefined);
    for (const mark of [note('a', 10), note('b', 20), note('a', 30), { ...note('b', 20), body: { kind: 'note', text: 'better' } as const }])
      book.add(mark);
    expect(book.all).toEqual([{ id: 'b', timeMs: 20, body: { kind: 'note', text: 'better' } }, note('a', 30)]);
  });

  it('can be moved and undone, and nothing else changes', () => {
    const book = createMarkBook(undefined);
    for (const mark of [note('a', 10), note('b', 20), note('c', 30), note('d', 40)]) book.add(mark);
    book.edit({ kind: 'moved', markId: 'd', timeMs: 15 });
    expect(book.all.map(({ id, timeMs }) => [id, timeMs])).toEqual([
      ['a', 10],
      ['d', 15],
      ['b', 20],
      ['c', 30],
    ]);
    book.edit({ kind: 'undone', markId: 'b' });
    // what is not there cannot come back by being moved
    book.edit({ kind: 'moved', markId: 'b', timeMs: 1 });
    book.edit({ kind: 'undone', markId: 'nobody' });
    expect(ids(book)).toEqual(['a', 'd', 'c']);
  });

  it('give the setting that stands: the last turn in time, else where the run began', () => {
    const book = createMarkBook(shutter(7));
    expect(book.setting()).toEqual(shutter(7));
    book.add(turned('one', 10, 6));
    book.add(turned('two', 20, 5));
    book.add(note('later', 30));
    expect(book.setting()).toEqual(shutter(5));
    book.edit({ kind: 'moved', markId: 'two', timeMs: 5 });
    expect(book.setting()).toEqual(shutter(6));
    book.edit({ kind: 'undone', markId: 'one' });
    book.edit({ kind: 'undone', markId: 'two' });
    expect(book.setting()).toEqual(shutter(7));
    expect(createMarkBook(undefined).setting()).toBeUndefined();
  });

  it('are what a plain list with the same moves and undoings gives, in any order', () => {
    const deed = fc.record({ what: fc.constantFrom('add', 'moved', 'undone'), id: fc.constantFrom('a', 'b', 'c', 'd'), timeMs: fc.nat(9) });
    fc.assert(
      fc.property(fc.array(deed, { maxLength: 30 }), (deeds) => {
        const book = createMarkBook(undefined);
        let plain: Mark[] = [];
        for (const { what, id, timeMs } of deeds) {
          const before = plain.some((mark) => mark.id === id);
          if (what === 'add') book.add(note(id, timeMs));
          else book.edit(what === 'moved' ? { kind: 'moved', markId: id, timeMs } : { kind: 'undone', markId: id });
          if (what === 'add' || before) plain = plain.filter((mark) => mark.id !== id);
          if (what === 'add' || (what === 'moved' && before)) plain.push(note(id, timeMs));
        }
        expect(book.all).toEqual([...plain].sort((a, b) => a.timeMs - b.timeMs));
      }),
    );
  });

  it('are the newest when there are more than anybody makes, and an old one is forgotten whole', () => {
    const book = createMarkBook(undefined);
    for (let n = 0; n < 5010; n++) book.add(note(String(n), n));
    expect([book.all.length, book.all[0]?.id, book.all.at(-1)?.id]).toEqual([5000, '10', '5009']);
    book.edit({ kind: 'moved', markId: '5', timeMs: 6000 });
    expect(book.all.at(-1)?.id).toBe('5009');
    book.edit({ kind: 'undone', markId: '3' });
    expect(book.all).toHaveLength(5000);
  });
});
