import { describe, expect, it } from 'vitest';
import { recordWords } from '../../shared/words/paper/technical-record.ts';
import { problems } from '../../shared/words/problems.ts';
import { bypassLine } from '../../shared/words/tune/alarms.ts';
import { signRefusal } from '../../shared/words/visit/refusals.ts';
import { missingWords } from '../../shared/words/visit/steps.ts';
import { allWords } from '../helpers/all-words.ts';

const sentences = (value: unknown, depth = 0): string[] => {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null || depth > 6) return [];
  return Object.values(value).flatMap((one) => sentences(one, depth + 1));
};

/** To an electrician an open contact is not bridged, so "bypass open" says the opposite of what is meant. */
describe('law 14: a jumper is in place or removed', () => {
  it('says so in the line over every screen and when signing is refused', () => {
    expect(bypassLine('limit bridged')).toBe('Bypass in place: limit bridged. Remove it before you leave.');
    expect(missingWords({ key: 'bypass-open', what: 'limit' })).toBe('Bypass in place: limit. Remove it before you leave.');
    expect(signRefusal({ key: 'bypass-open', what: 'limit' })).toBe('Remove the bypass first: limit.');
    expect(problems['bypass-open'].title).toBe('A bypass is in place.');
    expect([recordWords.columns.opened, recordWords.columns.closed]).toEqual(['put in place', 'removed']);
  });
  it('no sentence about a bypass or jumper speaks of open or closed', async () => {
    const screensAndPaper = await Promise.all(['visit', 'tune', 'paper', 'records'].map((part) => allWords(part)));
    const all = [...screensAndPaper.flat(), problems].flatMap((words) => sentences(words)).filter((text) => /bypass|jumper/i.test(text));
    expect(all.length).toBeGreaterThan(8);
    for (const text of all) expect(text).not.toMatch(/\b(open|opened|close|closed)\b/i);
  });
});
