/** A test that was closed early is still led: its step may end in the very moment in which it is signed. */
import { describe, expect, it } from 'vitest';
import { hashOfTest } from '../../../main/bench/signature.ts';
import { AIR, openBench } from './bench-fixture.ts';

describe('a step that ends while the signature is written', () => {
  for (let turns = 0; turns < 12; turns++)
    it(`${turns} turns after the name was typed: signed or refused, and nothing stays unsaved`, async () => {
      const bench = await openBench();
      const testId = bench.testIds[0]!;
      await bench.press('s1');
      for (let i = 0; i < 80 && ((await bench.state())[0]?.columns[0]?.leftS ?? 0) > 1; i++) await bench.read(1, AIR);
      await bench.call('bench.close', { testId });
      const signing = bench.call('bench.sign', { testId, name: 'B. Tester' });
      for (let i = 0; i < turns; i++) await Promise.resolve();
      const timeMs = bench.now() + 1000;
      bench.at(timeMs);
      bench.send('run-1', { samples: [0, 100, 200].map((ms) => ({ timeMs: timeMs + ms, values: AIR })) });
      const answer = await signing;
      await bench.clock.advance(10_000);
      expect([...bench.alarms.keys()]).toEqual([]);
      expect((await bench.state())[0]?.unsaved ?? []).toEqual([]);
      expect(bench.stored().signature !== undefined).toBe(answer.ok);
      if (answer.ok) expect(bench.stored().signature?.hash).toBe(hashOfTest(bench.stored()));
    });
});
