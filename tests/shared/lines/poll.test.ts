import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalRecipe, createPoller } from '../../../shared/lines/poll.ts';
import { shippedRecipes } from '../../../shared/lines/shipped-recipes.ts';
import { Polling } from '../../../shared/measurement/recipe.ts';

const polling = Polling.parse({ command: 'READ?\r\n', intervalMs: 1000, retries: 2 });
const target = { recipeHash: 'a1', deviceId: 'port 1' };
const consent = { ...target, command: 'READ?\r\n' };

describe('polling', () => {
  it.each([
    ['without consent', undefined],
    ['with consent for another recipe', { ...consent, recipeHash: 'b2' }],
    ['with consent for another device', { ...consent, deviceId: 'port 2' }],
    ['with consent for other bytes', { ...consent, command: 'ZERO!\r\n' }],
  ])('sends nothing %s', (_, given) => {
    const poller = createPoller(polling, target, given);
    for (let now = 0; now < 100_000; now += 500) expect(poller.next(now).send).toBeUndefined();
    expect(poller.state).toBe('no-consent');
  });

  it('asks once per interval and waits for the answer', () => {
    const poller = createPoller(polling, target, consent);
    expect(poller.next(0)).toEqual({ send: 'READ?\r\n', wakeAtMs: 2000 });
    expect(poller.next(50).send).toBeUndefined();
    expect(poller.heard(120)).toBe('answer');
    expect(poller.next(130)).toEqual({ wakeAtMs: 1000 });
    expect(poller.next(1000).send).toBe('READ?\r\n');
  });

  it('times out at three times the usual answer, at least half a second', () => {
    const poller = createPoller(polling, target, consent);
    for (let turn = 0; turn < 5; turn++) {
      poller.next(turn * 1000);
      poller.heard(turn * 1000 + 300);
    }
    expect(poller.usualAnswerMs).toBe(300);
    expect(poller.next(5000).wakeAtMs).toBe(5900);
    const quick = createPoller(polling, target, consent);
    quick.next(0);
    quick.heard(20);
    expect(quick.next(1000).wakeAtMs).toBe(1500);
  });

  it('keeps a late answer apart and asks again only after silence', () => {
    const poller = createPoller({ ...polling, timeoutMs: 500 }, target, consent);
    poller.next(0);
    expect(poller.next(500).send).toBeUndefined();
    expect(poller.state).toBe('flushing');
    expect(poller.heard(700)).toBe('late');
    const { wakeAtMs } = poller.next(710);
    expect(wakeAtMs).toBeGreaterThanOrEqual(950);
    expect(poller.next(wakeAtMs).send).toBe('READ?\r\n');
    expect(poller.heard(wakeAtMs + 40)).toBe('answer');
    expect(poller.counts).toMatchObject({ sent: 2, answered: 1, timedOut: 1, late: 1 });
  });

  it('takes a late answer for late even when nobody has looked at the clock', () => {
    const poller = createPoller({ ...polling, timeoutMs: 500 }, target, consent);
    poller.next(0);
    expect(poller.heard(650)).toBe('late');
  });

  it('drops the second of two answers', () => {
    const poller = createPoller(polling, target, consent);
    poller.next(0);
    expect([poller.heard(100), poller.heard(110), poller.heard(900)]).toEqual(['answer', 'double', 'unasked']);
    expect(poller.counts.double).toBe(1);
  });

  it('backs off from an instrument that never answers, up to half a minute, and comes back at once', () => {
    const poller = createPoller(polling, target, consent);
    const sent: number[] = [];
    let now = 0;
    while (now < 300_000) {
      const step = poller.next(now);
      if (step.send !== undefined) sent.push(now);
      now = Math.max(now + 1, step.wakeAtMs);
    }
    const gaps = sent.slice(1).map((at, index) => at - (sent[index] ?? 0));
    expect(Math.max(...gaps)).toBeGreaterThan(30_000);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(32_001);
    expect(sent.length).toBeLessThan(20);
    poller.next(now);
    expect(poller.heard(now + 50)).toBe('late');
    expect(poller.next(now + 400).send).toBe('READ?\r\n');
    expect(poller.heard(now + 450)).toBe('answer');
  });

  it('never has two questions open, whatever comes when', () => {
    fc.assert(
      fc.property(fc.array(fc.record({ wait: fc.integer({ min: 0, max: 3000 }), isLine: fc.boolean() }), { maxLength: 120 }), (events) => {
        const poller = createPoller(polling, target, consent);
        let now = 0;
        let isOpen = false;
        let openedMs = 0;
        for (const { wait, isLine } of events) {
          now += wait;
          if (isLine) {
            if (poller.heard(now) !== 'unasked') isOpen = false;
          } else if (poller.next(now).send !== undefined) {
            if (isOpen) expect(now - openedMs).toBeGreaterThanOrEqual(500);
            isOpen = true;
            openedMs = now;
          }
        }
        expect(poller.counts.answered).toBeLessThanOrEqual(poller.counts.sent);
      }),
    );
  });

  /** An instrument that answers every question, each `delayMs` after it was asked, in order; what it was asked, and what each answer was taken for. */
  const withDelay = (delayMs: number, { untilMs = 120_000, given = polling }: { untilMs?: number; given?: typeof polling } = {}) => {
    const poller = createPoller(given, target, consent);
    const asked: number[] = [];
    const heard: { toMs: number; isNewest: boolean; as: string }[] = [];
    let answersGiven = 0;
    for (let now = 0; now < untilMs; now += 10) {
      while (answersGiven < asked.length && (asked[answersGiven] ?? 0) + delayMs <= now) {
        const toMs = asked[answersGiven++] ?? 0;
        heard.push({ toMs, isNewest: toMs === asked.at(-1), as: poller.heard(now) });
      }
      if (poller.next(now).send !== undefined) asked.push(now);
    }
    return { poller, asked, heard };
  };
  it.each([700, 1900, 2100, 2300, 3000, 4500, 5000, 8000, 9500])(
    'learns how late an instrument is that always takes %d ms, and never takes an answer for that to a later question',
    (delayMs) => {
      const { poller, heard } = withDelay(delayMs);
      expect(heard.filter(({ as, isNewest }) => as === 'answer' && !isNewest)).toEqual([]);
      expect(heard.slice(-5).map(({ as }) => as)).toEqual(Array(5).fill('answer'));
      expect(Math.abs((poller.usualAnswerMs ?? 0) - delayMs)).toBeLessThanOrEqual(10);
    },
  );
  it('uses no answer that comes after a time-out which the recipe fixes, and takes none for that to a later question', () => {
    fc.assert(
      fc.property(fc.integer({ min: 310, max: 9000 }), fc.integer({ min: 100, max: 2000 }), (delayMs, intervalMs) => {
        const { heard } = withDelay(delayMs, { untilMs: 60_000, given: { ...polling, timeoutMs: 300, intervalMs } });
        expect(heard.filter(({ as }) => as === 'answer')).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
  it('loses a question to noise and goes on: the next answer is used when it comes as soon as answers usually do', () => {
    const poller = createPoller(polling, target, consent);
    let now = 0;
    for (let turn = 0; turn < 5; turn++) {
      expect(poller.next(now).send).toBeDefined();
      poller.heard(now + 120);
      now += 1000;
    }
    expect(poller.next(now).send).toBeDefined(); // this one is lost
    const { wakeAtMs } = poller.next(now + 500);
    expect(poller.state).toBe('flushing');
    expect(poller.next(wakeAtMs).send).toBeDefined();
    expect(poller.heard(wakeAtMs + 130)).toBe('answer');
  });

  it('counts one late answer for each question that was given up, the oldest first', () => {
    const poller = createPoller({ ...polling, timeoutMs: 500, intervalMs: 500 }, target, consent);
    expect(poller.next(0).send).toBeDefined();
    const first = poller.next(500).wakeAtMs;
    expect(poller.next(first).send).toBeDefined();
    // the answer to the first question, while the second is open: 800 ms late, so the second may be as late
    expect(poller.heard(first + 50)).toBe('late');
    expect(poller.counts).toMatchObject({ timedOut: 2, late: 1, answered: 0 });
    const { wakeAtMs } = poller.next(first + 50);
    expect(wakeAtMs).toBeGreaterThan(first + 1.5 * first);
    expect(poller.heard(first + 400)).toBe('late');
    // none is owed any more: a quarter of a second of silence is enough
    expect(poller.next(first + 400).wakeAtMs).toBe(first + 400 + 250);
    expect(poller.usualAnswerMs).toBe(400);
    expect(poller.next(first + 650).send).toBeDefined();
    expect(poller.heard(first + 700)).toBe('answer');
    expect(poller.counts).toMatchObject({ sent: 3, timedOut: 2, late: 2, answered: 1 });
  });
  it('goes on after ten seconds where an answer that is owed never comes', () => {
    const poller = createPoller({ ...polling, timeoutMs: 500, intervalMs: 500 }, target, consent);
    poller.next(0);
    const first = poller.next(500).wakeAtMs;
    poller.next(first);
    const lateMs = first + 400;
    expect(poller.heard(lateMs)).toBe('late');
    const { wakeAtMs } = poller.next(lateMs);
    expect(wakeAtMs - lateMs).toBeLessThanOrEqual(10_000);
    expect(poller.next(wakeAtMs).send).toBeDefined();
    expect(poller.heard(wakeAtMs + 40)).toBe('answer');
  });

  it('writes a recipe the same way whatever the order of its keys', () => {
    const recipe = shippedRecipes['polled-columns'];
    if (recipe === undefined) throw new Error('not shipped');
    const turned = Object.fromEntries(Object.entries(recipe).reverse()) as typeof recipe;
    expect(canonicalRecipe(turned)).toBe(canonicalRecipe(recipe));
    expect(canonicalRecipe({ ...recipe, name: 'other' })).not.toBe(canonicalRecipe(recipe));
  });
});
