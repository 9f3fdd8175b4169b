import { describe, expect, it } from 'vitest';
import * as edits from '../../shared/words/records/edits.ts';
import * as report from '../../shared/words/records/report.ts';
import { safetyWords } from '../../shared/words/tune/safety.ts';
import { bypassLine } from '../../shared/words/tune/alarms.ts';
import * as tune from '../../shared/words/tune/tune.ts';
import * as visit from '../../shared/words/tune/visit.ts';
import { problems } from '../../shared/words/problems.ts';

const sentences = (value: unknown, depth = 0): string[] => {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null || depth > 6) return [];
  return Object.values(value).flatMap((one) => sentences(one, depth + 1));
};

/** To an electrician an open contact is not bridged, so "bypass open" says the opposite of what is meant. */
describe('law 14: a jumper is in place or removed', () => {
  it('says so in the line over every screen and when signing is refused', () => {
    expect(bypassLine('limit bridged')).toBe('Bypass in place: limit bridged. Remove it before you leave.');
    expect(tune.missingWords({ key: 'bypass-open', what: 'limit' })).toBe('Bypass in place: limit. Remove it before you leave.');
    expect(tune.signRefusal({ key: 'bypass-open', what: 'limit' })).toBe('Remove the bypass first: limit.');
    expect(problems['bypass-open'].title).toBe('A bypass is in place.');
    expect([report.recordWords.columns.opened, report.recordWords.columns.closed]).toEqual(['put in place', 'removed']);
  });
  it('no sentence about a bypass or jumper speaks of open or closed', () => {
    const all = [edits, report, tune, visit, safetyWords, problems]
      .flatMap((words) => sentences(words))
      .filter((text) => /bypass|jumper/i.test(text));
    expect(all.length).toBeGreaterThan(8);
    for (const text of all) expect(text).not.toMatch(/\b(open|opened|close|closed)\b/i);
  });
});
