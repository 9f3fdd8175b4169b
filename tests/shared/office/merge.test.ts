/**
 * Laptops that work apart and meet in any order end alike. The demands are those of state-based replicated data: a merge that is commutative, associative
 * and idempotent. @source M. Shapiro, N. Preguiça, C. Baquero, M. Zawirski, "Conflict-free replicated data types", INRIA RR-7687 (2011), section 2.3
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ApplianceKnowledge } from '../../../shared/measurement/knowledge.ts';
import { inOneOrder, mergeAppliance, withoutPerson, type ApplianceState } from '../../../shared/office/merge-appliance.ts';
import { betterKnown, mergeDocument } from '../../../shared/office/merge-documents.ts';
import { mergeEdits } from '../../../shared/office/merge-edits.ts';
import { mergeVisit } from '../../../shared/office/merge-visit.ts';
import { fileNameOf, readFileName } from '../../../shared/office/names.ts';
import { ITEM_VERSION, itemText, newItem, readItem } from '../../../shared/office/item.ts';
import { applianceEdits } from '../../../shared/tuning/visit/appliance-edits.ts';
import { withCorrections, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { boiler, correction, signedVisit } from '../../helpers/visits/office-items.ts';

const ID = 'unit-123456';
const start: ApplianceState = { appliance: boiler({ owner: 'Ann', place: 'Elm Lane 8', maker: 'Kettle Works' }), edits: [] };
const merged = (a: ApplianceState, b: ApplianceState): ApplianceState => mergeAppliance(ID, a, b).state;

/** What happens at one of three laptops: a field is typed, the person is removed, or it meets another laptop. Clocks may be far apart. */
type Act = { who: number; what: 'owner' | 'maker' | 'due' | 'name' | 'remove' | 'meet'; other: number; time: number };
const act: fc.Arbitrary<Act> = fc.record({
  who: fc.nat(2),
  what: fc.constantFrom('owner', 'maker', 'due', 'name', 'meet', 'meet', 'remove'),
  other: fc.nat(2),
  time: fc.nat(50),
});

function play(acts: readonly Act[]): ApplianceState[] {
  const laptops = [start, start, start];
  acts.forEach(({ who, what, other, time }, n) => {
    const state = laptops[who] as ApplianceState;
    const made = { wallMs: time, by: `laptop ${who}` };
    const change = (more: Partial<ApplianceState['appliance']>): ApplianceState => {
      const appliance = { ...state.appliance, ...more };
      return { appliance, edits: [...state.edits, ...applianceEdits(state.appliance, appliance, made)] };
    };
    if (what === 'meet') laptops[who] = merged(state, laptops[other] as ApplianceState);
    else if (what === 'remove') laptops[who] = withoutPerson(ID, state, [made]);
    else if (what === 'due') laptops[who] = change({ nextDue: `2027-01-${10 + (n % 20)}` });
    else laptops[who] = change({ [what]: `${what} ${n}` });
  });
  return laptops;
}
/** one edit of one field at one time: two within a millisecond at one laptop would be one */
const sorted = (state: ApplianceState): string =>
  itemText(newItem({ kind: 'appliance', id: ID, appliance: state.appliance, edits: [...state.edits] }));
const isDistinct = (acts: readonly Act[]): boolean =>
  new Set(acts.filter(({ what }) => what !== 'meet').map(({ who, what, time }) => `${who}${what}${time}`)).size ===
  acts.filter(({ what }) => what !== 'meet').length;
const acts = fc.array(act, { maxLength: 14 }).filter(isDistinct);

describe('two lists of edits', () => {
  type Typed = { wallMs: number; what: string };
  const typed = (...list: readonly (readonly [number, string])[]): Typed[] => list.map(([wallMs, what]) => ({ wallMs, what }));
  const together = (a: readonly Typed[], b: readonly Typed[]): string[] =>
    mergeEdits(a, b, ({ wallMs, what }) => `${wallMs} ${what}`).map(({ what }) => what);

  it('keep an edit that was made twice, twice', () => {
    const twice = typed([1, 'a'], [1, 'a'], [2, 'b']);
    expect(together(twice, twice)).toEqual(['a', 'a', 'b']);
    expect(together(twice, typed([1, 'a'], [3, 'c']))).toEqual(['a', 'a', 'b', 'c']);
    expect(together(typed([1, 'a'], [3, 'c']), twice)).toEqual(['a', 'a', 'b', 'c']);
  });
});

describe('appliances that were changed at several laptops', () => {
  it('end alike in whatever order the laptops meet', () => {
    fc.assert(
      fc.property(acts, (done) => {
        const [a, b, c] = play(done) as [ApplianceState, ApplianceState, ApplianceState];
        const together = sorted(merged(merged(a, b), c));
        expect(sorted(merged(a, merged(b, c)))).toBe(together);
        expect(sorted(merged(merged(c, a), b))).toBe(together);
        expect(sorted(merged(merged(b, a), merged(c, a)))).toBe(together);
        expect(sorted(merged(a, a))).toBe(sorted(merged(a, merged(a, a))));
      }),
      { numRuns: 400 },
    );
  });

  it('hold nothing of a person who was removed, but what was typed by somebody who knew of the removal', () => {
    const removal = { wallMs: 500, by: 'A' };
    const away: ApplianceState = {
      appliance: { ...start.appliance, owner: 'Anna', contact: 'anna' },
      edits: applianceEdits(start.appliance, { ...start.appliance, owner: 'Anna', contact: 'anna' }, { wallMs: 9000, by: 'B' }),
    };
    const removed = withoutPerson(ID, start, [removal]);
    const knew = { ...removed.appliance, owner: 'Zoe' };
    const newOwner: ApplianceState = {
      appliance: knew,
      edits: [...removed.edits, ...applianceEdits(removed.appliance, knew, { wallMs: 600, by: 'A' })],
    };
    for (const state of [merged(newOwner, away), merged(away, newOwner), mergeAppliance(ID, away, away, [removal]).state]) {
      expect(JSON.stringify(state)).not.toMatch(/Ann|anna|Elm/);
      expect(state.appliance.maker).toBe('Kettle Works');
    }
    expect(merged(away, newOwner).appliance.owner).toBe('Zoe');
  });

  it('have two removals of one moment in one order, wherever they were heard of first', () => {
    const [first, second] = [
      { wallMs: 50, by: 'A' },
      { wallMs: 50, by: 'B' },
    ];
    const orders = [
      [first, second],
      [second, first],
    ].map(([one, other]) => merged(withoutPerson(ID, start, [one!]), withoutPerson(ID, start, [other!])).edits.map(({ by }) => by));
    expect(orders).toEqual([
      ['A', 'B'],
      ['A', 'B'],
    ]);
  });

  it('are one item, whenever a laptop heard of a removal', () => {
    const removal = { wallMs: 50, by: 'A' };
    const later = { ...start.appliance, nextDue: '2027-01-01' };
    const changed: ApplianceState = { appliance: later, edits: applianceEdits(start.appliance, later, { wallMs: 100, by: 'B' }) };
    const told = withoutPerson(ID, changed, [removal]);
    const met = merged(changed, withoutPerson(ID, start, [removal]));
    expect(inOneOrder(told.edits)).toEqual(inOneOrder(met.edits));
    expect(inOneOrder(told.edits)[0]).toMatchObject({ wallMs: 50, path: ['pseudonymised'] });
  });

  it('keep both changes where different fields were changed, and say which field was changed at both', () => {
    const change = (more: object, wallMs: number, by: string): ApplianceState => {
      const appliance = { ...start.appliance, ...more };
      return { appliance, edits: applianceEdits(start.appliance, appliance, { wallMs, by }) };
    };
    const [a, b] = [change({ owner: 'Bea', nextDue: '2027-01-01' }, 10, 'A'), change({ owner: 'Cem', serial: '77' }, 20, 'B')];
    const { state, conflicts } = mergeAppliance(ID, a, b);
    expect(state.appliance).toMatchObject({ owner: 'Cem', nextDue: '2027-01-01', serial: '77' });
    expect(state.edits).toHaveLength(4);
    expect(conflicts).toEqual([{ path: ['owner'], here: 'Bea', there: 'Cem', taken: 'Cem' }]);
    // who has met both is not told again
    expect(mergeAppliance(ID, state, b).conflicts).toEqual([]);
  });
});

describe('lists of edits', () => {
  type E = { wallMs: number; name: string };
  const key = ({ name }: E): string => name;
  it('keep their own order and hold each edit once', () => {
    const list = fc.uniqueArray(fc.record({ wallMs: fc.nat(9), name: fc.constantFrom(...'abcdefgh') }), {
      selector: ({ name }) => name,
      maxLength: 8,
    });
    fc.assert(
      fc.property(list, list, (a, b) => {
        const all = mergeEdits(a, b, key);
        expect(new Set(all.map(key)).size).toBe(all.length);
        expect(all.map(key).sort()).toEqual([...new Set([...a, ...b].map(key))].sort());
        const apart = b.filter(({ name }) => !a.some((one) => one.name === name));
        expect(mergeEdits(a, apart, key).filter(({ name }) => a.some((one) => one.name === name))).toEqual(a);
      }),
    );
  });
});

describe('a visit from two places', () => {
  const text = (visit: Visit): string => JSON.stringify(visit);
  const visit = signedVisit('v-1');
  const noteA = correction(100, ['fuelId'], 'b5', 'A');
  const noteB = correction(50, ['fuelId'], 'no1', 'B');
  it('is the same when only its number differs', () => expect(mergeVisit(visit, { ...visit, number: 77 }, text)).toEqual({ kind: 'same' }));
  it('is new where it is not', () => expect(mergeVisit(undefined, visit, text)).toEqual({ kind: 'new' }));
  it('takes corrections of both sides, in one order for all, and says where both corrected the same', () => {
    const [a, b] = [signedVisit('v-1', { corrections: [noteA] }), signedVisit('v-1', { corrections: [noteB] })];
    const [ab, ba] = [mergeVisit(a, b, text), mergeVisit(b, a, text)];
    expect(ab).toMatchObject({
      kind: 'corrected',
      edits: [noteB, noteA],
      conflicts: [{ path: ['fuelId'], here: 'b5', there: 'no1', taken: 'b5' }],
    });
    expect(ba).toMatchObject({ edits: [noteB, noteA] });
    expect(ab.kind === 'corrected' && withCorrections({ ...a, edits: ab.edits }).fuelId).toBe('b5');
  });
  it('takes nothing where it has more already', () => {
    expect(mergeVisit(signedVisit('v-1', { corrections: [noteB, noteA] }), signedVisit('v-1', { corrections: [noteB] }), text)).toEqual({
      kind: 'same',
    });
  });
  it('keeps what was edited before it was signed, in front, and takes only what was corrected since', () => {
    const before = [correction(1, ['fuelId'], 'b5', 'A'), correction(2, ['fuelId'], 'no2', 'A')];
    const withBefore = (corrections: readonly ReturnType<typeof correction>[]): Visit => {
      const { signature, ...rest } = signedVisit('v-1');
      return { ...rest, signature: { ...signature!, editsBefore: before.length }, edits: [...before, ...corrections] };
    };
    const [a, b] = [withBefore([noteA]), withBefore([noteB])];
    expect(mergeVisit(a, b, text)).toMatchObject({ kind: 'corrected', edits: [...before, noteB, noteA] });
    expect(mergeVisit(b, a, text)).toMatchObject({ kind: 'corrected', edits: [...before, noteB, noteA] });
    expect(mergeVisit(a, withBefore([]), text)).toEqual({ kind: 'same' });
  });
  it('a field that both corrected alike, or one of them only, is no conflict', () => {
    const same = [correction(7, ['fuelId'], 'b5', 'C'), correction(8, ['fuelId'], 'b5', 'D')] as const;
    const other = correction(9, ['notes'], 'later', 'D');
    const merge = mergeVisit(signedVisit('v-1', { corrections: [same[0]] }), signedVisit('v-1', { corrections: [same[1], other] }), text);
    expect(merge).toEqual({ kind: 'corrected', edits: [...same, other], conflicts: [] });
  });
  it('is not mixed with another one under its id', () => {
    expect(mergeVisit(visit, signedVisit('v-1', { n: 2 }), text)).toEqual({ kind: 'differs' });
    const { signature: _, ...open } = visit;
    expect(mergeVisit(open, visit, text)).toEqual({ kind: 'differs' });
  });
});

describe('documents', () => {
  const there = { hash: 'b', text: 'B', earlier: ['a'] };
  it.each([
    ['is not here', undefined, 'new'],
    ['is the same', { hash: 'x', isUnchanged: true, text: 'B', earlier: [] }, 'same'],
    ['was here, unchanged, when the other was made', { hash: 'a', isUnchanged: true, text: 'A', earlier: [] }, 'later'],
    ['was changed here since', { hash: 'a', isUnchanged: false, text: 'A2', earlier: [] }, 'apart'],
    ['was never shared', { hash: undefined, isUnchanged: false, text: 'Z', earlier: [] }, 'apart'],
    ['came after the other', { hash: 'c', isUnchanged: true, text: 'C', earlier: ['a', 'b'] }, 'earlier'],
  ] as const)('one that %s', (_, here, merge) => expect(mergeDocument(here, there)).toBe(merge));
  it('more visits know better, on every laptop alike', () => {
    const known = (visitIds: string[], learnedWallMs: number): ApplianceKnowledge => ({
      visitIds,
      knowledge: {
        format: 'flueside-knowledge',
        version: 1,
        appliance: 'pressure-atomizing oil burner',
        learnedWallMs,
        visits: 1,
        channels: {},
      },
    });
    const [one, two, other] = [known(['a'], 9), known(['a', 'b'], 1), known(['a', 'c'], 1)];
    expect(betterKnown(one, two)).toBe(two);
    expect(betterKnown(two, one)).toBe(two);
    expect(betterKnown(two, other)).toBe(betterKnown(other, two));
    const newer = known(['a', 'c'], 2);
    expect([betterKnown(two, newer), betterKnown(newer, two)]).toEqual([newer, newer]);
    const { learnedWallMs: _, ...undated } = two.knowledge;
    const never: ApplianceKnowledge = { ...two, knowledge: undated };
    expect([betterKnown(never, two), betterKnown(two, never)]).toEqual([two, two]);
  });
});

describe('items', () => {
  it('are read whatever stands there', () => {
    fc.assert(fc.property(fc.anything(), (value) => void readItem(value)));
    expect(readItem({ format: 'flueside-item', version: ITEM_VERSION + 1 })).toEqual({ ok: false, error: 'newer' });
    expect(readItem({ format: 'flueside-item', version: ITEM_VERSION, kind: 'visit' })).toEqual({ ok: false, error: 'damaged' });
    expect(readItem('[]')).toEqual({ ok: false, error: 'foreign' });
    const { signature: _, ...open } = signedVisit('v-1');
    expect(readItem({ ...newItem({ kind: 'visit', id: 'v-1', visit: signedVisit('v-1') }), visit: open })).toEqual({
      ok: false,
      error: 'damaged',
    });
    expect(readItem(newItem({ kind: 'visit', id: 'v-2', visit: signedVisit('v-1') }))).toEqual({ ok: false, error: 'damaged' });
  });
  it('have names that every system takes and that lead back to them', () => {
    const hash = '0123456789abcdef'.repeat(4);
    fc.assert(
      fc.property(
        fc.string({ minLength: 1, maxLength: 20, unit: 'binary' }),
        fc.string({ minLength: 1, maxLength: 20, unit: 'binary' }),
        (a, b) => {
          const [one, other] = [fileNameOf('visit', a, hash) ?? '', fileNameOf('visit', b, hash) ?? ''];
          if (one !== '') expect(readFileName(one)?.id).toBe(a);
          if (a !== b && one !== '') expect(one.toLowerCase()).not.toBe(other.toLowerCase());
          expect(one).toMatch(/^([0-9a-z._-]+\.json)?$/);
        },
      ),
    );
    expect(readFileName('visit.a.0123.json')).toBeUndefined();
    expect(readFileName('photo.jpg')).toBeUndefined();
  });
});
